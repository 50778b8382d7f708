#include <leastwise/alternatives.hpp>

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
      "instead of a list: what the cost may rise for one of the wishes below")(
      "fewest", "the fewest materials")("least-mass", "the least kg per hectare")(
      "least-of", po::value<std::string>()->value_name("NAME"),
      "the least of a nutrient or property");
  add_time_limit(options);
  add_scenario_options(options);
  return options;
}

int count_of(const po::variables_map& options) {
  constexpr int by_default = 5;
  constexpr int most = 100000;
  if (options.count("count") == 0) return by_default;
  const double count = number_of(options["count"].as<std::string>(), "--count");
  if (count < 1 || count > most || count != static_cast<int>(count))
    throw UsageError("--count expects a whole number from 1 to 100000");
  return static_cast<int>(count);
}

/// What is wished for with `--within`; exactly one wish.
Wish wish_of(const po::variables_map& options) {
  const auto given =
      options.count("fewest") + options.count("least-mass") + options.count("least-of");
  if (given != 1)
    throw UsageError("--within needs one of --fewest, --least-mass or --least-of NAME");
  if (options.count("fewest") > 0) return Wish::fewest_materials;
  return options.count("least-mass") > 0 ? Wish::least_mass : Wish::least_of;
}

int run_alternatives(const Arguments& arguments) {
  const po::options_description options = alternatives_options();
  const Parsed given = parsed(arguments, alternatives_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(alternatives_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  const bool within = given.options.count("within") > 0;
  if (!within && given.options.count("fewest") + given.options.count("least-mass") +
                         given.options.count("least-of") >
                     0)
    throw UsageError("--fewest, --least-mass and --least-of need --within PERCENT");
  if (within && given.options.count("count") > 0)
    throw UsageError("--count and --within are two different questions");
  const int count = count_of(given.options);
  LongWork work(given.options);
  if (!within) {
    const Scenario scenario = scenario_of(*given.file, given.options, work);
    const auto list = alternatives(scenario, count, work.limits());
    work.end();
    output.write(report_of(list, output));
    return exit_code_of(list.ending);
  }
  const double percent = number_of(given.options["within"].as<std::string>(), "--within");
  const Wish wish = wish_of(given.options);
  const std::string of =
      wish == Wish::least_of ? given.options["least-of"].as<std::string>() : std::string{};
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  const auto answer =
      asked([&] { return near_optimum(scenario, percent, wish, of, work.limits()); });
  work.end();
  output.write(report_of(answer, output));
  return exit_code_of(answer.ending);
}

}  // namespace

extern const Command alternatives_command;
const Command alternatives_command{
    "alternatives", "list the next-best blends, or the simplest near the best", run_alternatives};

}  // namespace leastwise::cli
