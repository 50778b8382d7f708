#include "commands.hpp"

#include <leastwise/question.hpp>

#include <algorithm>
#include <array>

#include "arguments.hpp"

namespace leastwise::cli {

extern const Command alternatives_command;
extern const Command batch_command;
extern const Command blend_command;
extern const Command check_command;
extern const Command compare_command;
extern const Command materials_command;
extern const Command plan_command;
extern const Command prices_command;
extern const Command quote_command;
extern const Command risk_command;
extern const Command schema_command;
extern const Command season_command;
extern const Command stream_command;
extern const Command verify_command;

namespace {

constexpr std::array every_command{
    &blend_command,     &quote_command,        &check_command,  &compare_command, &prices_command,
    &risk_command,      &alternatives_command, &batch_command,  &plan_command,    &season_command,
    &materials_command, &schema_command,       &verify_command, &stream_command};

}  // namespace

std::span<const Command* const> commands() { return every_command; }

const Command& find_command(std::string_view name) {
  const auto* found = std::ranges::find(every_command, name, &Command::name);
  if (found != every_command.end()) return **found;
  std::vector<std::string> names;
  for (const Command* command : every_command) names.emplace_back(command->name);
  throw UsageError("unknown command '" + std::string(name) + "'" + did_you_mean(name, names));
}

}  // namespace leastwise::cli
