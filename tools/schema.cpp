#include <leastwise/load.hpp>
#include <leastwise/question.hpp>
#include <leastwise/report.hpp>
#include <leastwise/season_load.hpp>
#include <leastwise/trial_load.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "output.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis schema_synopsis{
    "schema", "[NAME]",
    "Prints a JSON Schema: of the scenario format (default), of the trial or season\n"
    "format, or of a kind of JSON report. 'reports' prints that of all kinds. For\n"
    "editors that check while you type, and for programs that read reports.\n",
    "  leastwise schema --output scenario.schema.json\n"
    "  leastwise schema trial --output trial.schema.json\n"
    "  leastwise schema blend\n",
    false};

std::string schema_of(const std::string& name) {
  if (name == "scenario") return std::string(scenario_schema());
  if (name == "trial") return std::string(trial_schema());
  if (name == "season") return std::string(season_schema());
  if (name == "reports") return std::string(report_schemas());
  std::vector<std::string> known = report_kinds();
  if (std::ranges::find(known, name) != known.end()) return report_schema(name);
  known.insert(known.begin(), {"scenario", "trial", "season", "reports"});
  std::string list;
  for (const auto& one : known) {
    if (!list.empty()) list += &one == &known.back() ? " or " : ", ";
    list += one;
  }
  throw UsageError("schema expects " + list + ", found '" + name + "'" + did_you_mean(name, known));
}

int run_schema(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, {});
  const Parsed given = parsed(arguments, schema_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(schema_synopsis, options));
  } else {
    const std::string schema = schema_of(given.file.value_or("scenario"));
    output_of(given.options, {}).write(schema);
  }
  return blend_found;
}

}  // namespace

extern const Command schema_command;
const Command schema_command{"schema", "print the JSON Schema of a format or of a report",
                             run_schema};

}  // namespace leastwise::cli
