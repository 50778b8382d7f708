#include "step_input.hpp"

#include <boost/program_options/value_semantic.hpp>
#include <string>

#include "arguments.hpp"
#include "landscape_input.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;

void add_step_options(po::options_description& options) {
  options.add_options()("step-kg", po::value<std::string>()->value_name("KG"),
                        "the cheapest blend whose portions are whole steps of the scale")(
      "batch-kg", po::value<std::string>()->value_name("KG"),
      "with --step-kg, per-tonne scenarios: what is weighed at once (default 1000)")(
      "batch-hectares", po::value<std::string>()->value_name("HA"),
      "with --step-kg, per-hectare scenarios: the land a batch is for (default 1)");
}

std::optional<RoundingOptions> rounding_of(const po::variables_map& options) {
  const auto number = [&](const char* name, double least, double most, const char* expected) {
    std::optional<double> value;
    if (options.count(name) == 0) return value;
    const auto& text = options[name].as<std::string>();
    const std::string option = "--" + std::string(name);
    value = number_of(text, option);
    if (*value < least || *value > most)
      throw UsageError(option + " expects " + expected + ", found '" + text + "'");
    return value;
  };
  const auto step = number("step-kg", 0.001, 1000, "from 0.001 to 1000 kg");
  if (!step) {
    if (options.count("batch-kg") + options.count("batch-hectares") > 0)
      throw UsageError("--batch-kg and --batch-hectares need --step-kg");
    return std::nullopt;
  }
  RoundingOptions rounding;
  rounding.step_kg = *step;
  rounding.batch_kg = number("batch-kg", 0.001, 1e9, "from 0.001 to 1e9 kg");
  rounding.batch_hectares = number("batch-hectares", 1e-6, 1e9, "from 1e-6 to 1e9 hectares");
  return rounding;
}

ExitCode exit_code_of(const RoundedBlend& blend) {
  if (blend.ending.status != Status::optimal) return exit_code_of(blend.ending);
  if (blend.obeys) return blend_found;
  return blend.proved ? infeasible : stopped;
}

}  // namespace leastwise::cli
