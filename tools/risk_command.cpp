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
    "Draws prices as 'risk:' in the scenario FILE states ('-': standard input).\n"
    "Reports what today's recipe costs at these prices, what the cheapest recipe of\n"
    "each draw costs, how often each recipe wins, and what the freedom to choose is\n"
    "worth.\n"
    "Exit code: 0 done, 1 input rejected, 2 no blend obeys every rule, 3 stopped\n"
    "before the end, 64 wrong usage, 74 report not written.\n",
    "  leastwise risk field.yaml\n"
    "  leastwise risk --draws 50000 --seed 7 field.yaml\n"
    "  leastwise risk --format csv --output draws.csv field.yaml\n",
    true};

po::options_description risk_options() {
  po::options_description options;
  add_output_options(options);
  options.add_options()("draws", po::value<std::string>()->value_name("COUNT"),
                        "how many draws, instead of the scenario's")(
      "seed", po::value<std::string>()->value_name("NUMBER"),
      "where the draws start, instead of the scenario's")(
      "threads", po::value<std::string>()->value_name("COUNT"),
      "how many to use (default: all); the result is the same");
  add_time_limit(options);
  add_scenario_options(options);
  return options;
}

RiskQuestion risk_asked(const po::variables_map& options) {
  RiskQuestion question;
  constexpr long most_threads = 1024;
  if (const auto threads = whole_number_of(options, "threads")) {
    if (*threads < 1 || *threads > most_threads)
      throw UsageError("--threads expects a whole number from 1 to 1024, found '" +
                       options["threads"].as<std::string>() + "'");
    question.threads = static_cast<unsigned>(*threads);
  }
  question.draws = whole_number_of(options, "draws");
  if (const auto seed = whole_number_of(options, "seed")) {
    if (*seed < 0)
      throw UsageError("--seed expects a whole number from 0, found '" +
                       options["seed"].as<std::string>() + "'");
    question.seed = static_cast<std::uint64_t>(*seed);
  }
  return question;
}

int run_risk(const Arguments& arguments) {
  const po::options_description options = risk_options();
  const Parsed given = parsed(arguments, risk_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(risk_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  const RiskQuestion question = risk_asked(given.options);
  LongWork work(given.options);
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  return answered(scenario, question, output, work);
}

}  // namespace

extern const Command risk_command;
const Command risk_command{"risk", "weigh uncertain prices: budget, recipes, worth of choosing",
                           run_risk};

}  // namespace leastwise::cli
