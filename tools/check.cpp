#include <leastwise/scenario.hpp>

#include <algorithm>
#include <sstream>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "output.hpp"
#include "scenario_input.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis synopsis{
    "check", "FILE",
    "Reads the scenario in FILE ('-': standard input), says everything that is wrong\n"
    "with it, and solves nothing. Exit code: 0 nothing is wrong, 1 input rejected.\n",
    "  leastwise check field.yaml\n"
    "  leastwise check - < field.yaml\n",
    true};

std::string counted(std::size_t count, std::string_view what) {
  return std::to_string(count) + " " + std::string(what) + (count == 1 ? "" : "s");
}

std::string summary(const std::string& file, const Scenario& scenario) {
  const auto entering = std::ranges::count_if(scenario.materials(), &Material::can_enter);
  std::ostringstream text;
  text << (file == "-" ? "stdin" : file) << ": nothing is wrong; "
       << (scenario.basis() == Basis::per_hectare ? "per hectare" : "per tonne") << "; "
       << counted(scenario.materials().size(), "material") << " (" << entering
       << " can enter a blend), " << counted(scenario.rates().size(), "rate") << ", "
       << counted(scenario.grades().size(), "grade") << ", "
       << counted(scenario.ratios().size(), "ratio") << ", "
       << counted(scenario.exclusions().size(), "pair") << " kept apart\n";
  for (const Note& note : scenario.notes()) {
    text << to_string(note.level) << ": " << note.text << '\n';
  }
  return text.str();
}

int run(const Arguments& arguments) {
  po::options_description options;
  add_scenario_options(options);
  const Parsed given = parsed(arguments, synopsis, options);
  const Output output;
  if (given.help_asked) {
    output.write(help_page(synopsis, options));
  } else {
    output.write(summary(*given.file, scenario_of(*given.file, given.options)));
  }
  return blend_found;
}

}  // namespace

extern const Command check_command;
const Command check_command{"check", "say what is wrong with a scenario, and solve nothing", run};

}  // namespace leastwise::cli
