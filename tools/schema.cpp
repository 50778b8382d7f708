#include <leastwise/load.hpp>
#include <leastwise/trial_load.hpp>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "output.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis schema_synopsis{
    "schema", "[scenario|trial]",
    "Prints the JSON Schema of the scenario format (default) or of the trial format,\n"
    "for editors that check while you type.\n",
    "  leastwise schema --output scenario.schema.json\n"
    "  leastwise schema trial --output trial.schema.json\n",
    false};

std::string_view schema_of(const std::string& name) {
  if (name == "scenario") return scenario_schema();
  if (name == "trial") return trial_schema();
  throw UsageError("schema expects scenario or trial, found '" + name + "'" +
                   did_you_mean(name, {"scenario", "trial"}));
}

int run_schema(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, {});
  const Parsed given = parsed(arguments, schema_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(schema_synopsis, options));
  } else {
    const std::string_view schema = schema_of(given.file.value_or("scenario"));
    output_of(given.options, {}).write(schema);
  }
  return blend_found;
}

}  // namespace

extern const Command schema_command;
const Command schema_command{"schema", "print the JSON Schema of the scenario or trial format",
                             run_schema};

}  // namespace leastwise::cli
