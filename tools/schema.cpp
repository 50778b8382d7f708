#include <leastwise/load.hpp>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "output.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis synopsis{
    "schema", "",
    "Prints the JSON Schema of the scenario format, for editors that check while you\n"
    "type.\n",
    "  leastwise schema --output scenario.schema.json\n", false};

int run(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, false);
  const Parsed given = parsed(arguments, synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(synopsis, options));
  } else {
    output_of(given.options).write(scenario_schema());
  }
  return blend_found;
}

}  // namespace

extern const Command schema_command;
const Command schema_command{"schema", "print the JSON Schema of the scenario format", run};

}  // namespace leastwise::cli
