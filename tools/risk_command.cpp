#include <leastwise/risk.hpp>

#include <boost/program_options/value_semantic.hpp>

#include "landscape_input.hpp"
#include "long_work.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis risk_synopsis{
    "risk", "FILE",
    "Draws prices as 'risk:' in the scenario FILE ('-': standard input) says, and tells\n"
    "what today's recipe would cost, what choosing the cheapest anew would, how often\n"
    "each recipe wins and what the freedom to choose is worth.\n"
    "Exit code: 0 done, 1 input rejected, 2 no blend obeys every rule, 3 stopped before\n"
    "the end, 64 wrong usage, 74 report not written.\n",
    "  leastwise risk field.yaml\n"
    "  leastwise risk --draws 50000 --seed 7 field.yaml\n"
    "  leastwise risk --format csv --output draws.csv field.yaml\n",
    true};

po::options_description risk_options() {
  po::options_description options;
  add_output_options(options);
  options.add_options()("draws", po::value<std::string>()->value_name("COUNT"),
                        "how many draws, instead of what the scenario says")(
      "seed", po::value<std::string>()->value_name("NUMBER"),
      "where the draws start, instead of what the scenario says")(
      "threads", po::value<std::string>()->value_name("COUNT"),
      "how many to use (default: all); the result is the same");
  add_time_limit(options);
  add_scenario_options(options);
  return options;
}

/// A whole number of an option. Throws: UsageError.
long whole_number(const po::variables_map& options, const char* name, double least, double most) {
  const std::string option = std::string("--") + name;
  const std::string text = options[name].as<std::string>();
  const double value = number_of(text, option);
  if (value < least || value > most || value != static_cast<double>(static_cast<long>(value)))
    throw UsageError(option + " expects a whole number from " +
                     std::to_string(static_cast<long>(least)) + " to " +
                     std::to_string(static_cast<long>(most)) + ", found '" + text + "'");
  return static_cast<long>(value);
}

Scenario as_asked(const Scenario& scenario, const po::variables_map& options) {
  if (!scenario.price_uncertainty())
    throw UsageError(
        "the scenario does not say how uncertain its prices are; add to it, say,\n"
        "  risk: {prices: {" +
        scenario.materials().front().name + ": {lognormal_percent: 20}}}");
  if (options.count("draws") == 0 && options.count("seed") == 0) return scenario;
  ScenarioDraft draft = scenario.draft();
  if (options.count("draws") > 0)
    draft.risk->draws = whole_number(options, "draws", 1, static_cast<double>(most_draws));
  if (options.count("seed") > 0)
    draft.risk->seed = static_cast<std::uint64_t>(whole_number(options, "seed", 0, 1e15));
  return Scenario(draft);
}

int run_risk(const Arguments& arguments) {
  const po::options_description options = risk_options();
  const Parsed given = parsed(arguments, risk_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(risk_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  RiskOptions how;
  constexpr double most_threads = 1024;
  if (given.options.count("threads") > 0)
    how.threads = static_cast<unsigned>(whole_number(given.options, "threads", 1, most_threads));
  LongWork work(given.options);
  const Scenario scenario = as_asked(scenario_of(*given.file, given.options, work), given.options);
  how.limits = work.limits();
  how.progress = [tell = how.limits.progress](long done, long all) { tell({"draws", done, all}); };
  const auto risk = asked([&] { return price_risk(scenario, how); });
  work.end();
  output.write(report_of(risk, output));
  return exit_code_of(risk.ending);
}

}  // namespace

extern const Command risk_command;
const Command risk_command{"risk", "weigh uncertain prices: budget, recipes, worth of choosing",
                           run_risk};

}  // namespace leastwise::cli
