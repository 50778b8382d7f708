#include <leastwise/catalogue.hpp>
#include <leastwise/report.hpp>
#include <leastwise/scenario.hpp>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "long_work.hpp"
#include "output.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis materials_synopsis{
    "materials", "[FILE]",
    "Lists the built-in materials with their typical contents; with FILE the\n"
    "materials of that scenario ('-': standard input). Exit code: 0; 1 when FILE is\n"
    "rejected; 3 stopped before the end.\n",
    "  leastwise materials\n"
    "  leastwise materials --format csv field.yaml\n",
    false};

int run_materials(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, without_pictures);
  add_reading_limit(options);
  add_scenario_options(options);
  const Parsed given = parsed(arguments, materials_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(materials_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options, without_pictures);
  LongWork work(given.options);
  if (!given.file) {
    work.end();
    output.write(report_of(built_in_materials(), output));
    return blend_found;
  }
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  work.end();
  output.write(report_of(scenario.materials(), output));
  return blend_found;
}

}  // namespace

extern const Command materials_command;
const Command materials_command{"materials", "list the built-in materials, or those of a scenario",
                                run_materials};

}  // namespace leastwise::cli
