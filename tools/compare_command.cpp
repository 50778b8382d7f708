#include <leastwise/compare.hpp>

#include <algorithm>
#include <boost/program_options/value_semantic.hpp>

#include "landscape_input.hpp"
#include "long_work.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis compare_synopsis{
    "compare",
    "FILE...",
    "Sets scenarios side by side: each FILE ('-': standard input) with its variants,\n"
    "or with --source the sources of a nutrient, each forced in turn. A scenario that\n"
    "cannot be blended is a line, not the end. Exit code: 0 some line has a blend,\n"
    "1 input rejected, 2 no line has a blend, 3 stopped before the end, 64 wrong\n"
    "usage, 74 report not written.\n",
    "  leastwise compare field.yaml\n"
    "  leastwise compare spring.yaml autumn.yaml\n"
    "  leastwise compare --source Zn --format csv field.yaml\n",
    true,
    true};

po::options_description compare_options() {
  po::options_description options;
  add_output_options(options);
  options.add_options()("source", po::value<std::string>()->value_name("NUTRIENT"),
                        "force each source of the nutrient in turn and rank them");
  add_table_option(options);
  add_time_limit(options);
  add_scenario_options(options);
  return options;
}

std::vector<NamedScenario> named_scenarios(const Parsed& given, const LongWork& work) {
  std::vector<NamedScenario> all;
  for (const auto& file : given.files) {
    auto some = with_variants(scenario_of(file, given.options, work));
    if (given.files.size() > 1)
      for (auto& named : some)
        named.name = &named == &some.front() ? file : file + " " + named.name;
    std::move(some.begin(), some.end(), std::back_inserter(all));
  }
  return all;
}

int run_compare(const Arguments& arguments) {
  const po::options_description options = compare_options();
  const Parsed given = parsed(arguments, compare_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(compare_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  const auto table = table_of(given.options, output);
  const bool sources = given.options.count("source") > 0;
  if (sources && given.files.size() > 1) throw UsageError("--source takes one FILE");
  LongWork work(given.options);
  if (sources) {
    const Scenario scenario = scenario_of(given.files.front(), given.options, work);
    return answered(scenario, CompareQuestion{given.options["source"].as<std::string>()}, output,
                    work, table);
  }
  const auto scenarios = named_scenarios(given, work);
  const Answer answer = compare(scenarios, work.limits());
  work.end();
  output.write(report_of(answer, output, table));
  return code_after(answer);
}

}  // namespace

extern const Command compare_command;
const Command compare_command{"compare", "set scenarios, variants or sources side by side",
                              run_compare};

}  // namespace leastwise::cli
