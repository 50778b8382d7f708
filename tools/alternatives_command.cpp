#include <algorithm>
#include <boost/program_options/value_semantic.hpp>

#include "landscape_input.hpp"
#include "long_work.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis alternatives_synopsis{
    "alternatives", "FILE",
    "Lists the cheapest blends of the scenario in FILE ('-': standard input) with\n"
    "distinct sets of materials, in order and none missed; or finds, among the blends\n"
    "that cost a little more, the one that is best in another way. Exit code: 0 list\n"
    "complete, 1 input rejected, 2 no blend obeys every rule, 3 stopped before the\n"
    "end, 64 wrong usage, 74 report not written.\n",
    "  leastwise alternatives --count 10 field.yaml\n"
    "  leastwise alternatives --within 5 --fewest field.yaml\n"
    "  leastwise alternatives --within 3 --least-of Cl field.yaml\n",
    true};

po::options_description alternatives_options() {
  po::options_description options;
  add_output_options(options);
  options.add_options()("count", po::value<std::string>()->value_name("COUNT"),
                        "how many blends to list (default 5)")(
      "within", po::value<std::string>()->value_name("PERCENT"),
      "instead of a list: how much the cost may rise for one of the goals below")(
      "fewest", "the fewest materials")("least-mass", "the least kg per hectare")(
      "least-of", po::value<std::string>()->value_name("NAME"),
      "the least of a nutrient or property");
  add_time_limit(options);
  add_scenario_options(options);
  return options;
}

AlternativesQuestion alternatives_asked(const po::variables_map& options) {
  AlternativesQuestion question;
  if (const auto count = whole_number_of(options, "count"))
    question.count = static_cast<int>(std::clamp(*count, -1L, 1'000'000L));
  question.within = number_given(options, "within");
  const auto wishes =
      options.count("fewest") + options.count("least-mass") + options.count("least-of");
  if (!question.within && wishes > 0)
    throw UsageError("--fewest, --least-mass and --least-of need --within PERCENT");
  if (question.within && question.count)
    throw UsageError("--count and --within are two different questions");
  if (question.within && wishes != 1)
    throw UsageError("--within needs one of --fewest, --least-mass or --least-of NAME");
  if (options.count("fewest") > 0) question.wish = SecondaryObjective::fewest_materials;
  if (options.count("least-mass") > 0) question.wish = SecondaryObjective::least_mass;
  if (options.count("least-of") > 0) {
    question.wish = SecondaryObjective::least_of;
    question.least_of = options["least-of"].as<std::string>();
  }
  return question;
}

int run_alternatives(const Arguments& arguments) {
  const po::options_description options = alternatives_options();
  const Parsed given = parsed(arguments, alternatives_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(alternatives_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  const AlternativesQuestion question = alternatives_asked(given.options);
  LongWork work(given.options);
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  return answered(scenario, question, output, work);
}

}  // namespace

extern const Command alternatives_command;
const Command alternatives_command{
    "alternatives", "list the next-best blends, or the simplest near the best", run_alternatives};

}  // namespace leastwise::cli
