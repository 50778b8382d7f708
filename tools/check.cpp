#include <leastwise/compare.hpp>
#include <leastwise/render.hpp>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "long_work.hpp"
#include "output.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis check_synopsis{
    "check", "FILE",
    "Reads the scenario in FILE ('-': standard input), reports everything that is\n"
    "wrong with it, and solves nothing. Exit code: 0 nothing is wrong, 1 input\n"
    "rejected, 3 stopped before the end.\n",
    "  leastwise check field.yaml\n"
    "  leastwise check - < field.yaml\n",
    true};

int run_check(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, without_pictures);
  add_reading_limit(options);
  add_scenario_options(options);
  const Parsed given = parsed(arguments, check_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(check_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options, without_pictures);
  LongWork work(given.options);
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  static_cast<void>(with_variants(scenario));  // throws what is wrong with any of them
  work.end();
  output.write(report_of(CheckedScenario{scenario}, output, spoken(*given.file)));
  return blend_found;
}

}  // namespace

extern const Command check_command;
const Command check_command{"check", "say what is wrong with a scenario, and solve nothing",
                            run_check};

}  // namespace leastwise::cli
