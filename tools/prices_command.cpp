#include <leastwise/limit_map.hpp>
#include <leastwise/price_map.hpp>

#include <boost/program_options/value_semantic.hpp>

#include "landscape_input.hpp"
#include "long_work.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis prices_synopsis{
    "prices", "FILE",
    "Maps the least cost of the scenario in FILE ('-': standard input) exactly: over\n"
    "the price of one material, over the prices of two, or over the limit of a rule.\n"
    "Exit code: 0 map complete, 1 input rejected, 2 no blend obeys every rule,\n"
    "3 stopped before the end, 64 wrong usage, 74 report not written.\n",
    "  leastwise prices --vary urea=300:700 field.yaml\n"
    "  leastwise prices --vary urea=300:700 --vary map=500:900 field.yaml\n"
    "  leastwise prices --vary urea=300:700 --format svg --output urea.svg field.yaml\n"
    "  leastwise prices --limit 'rate N min=40:90' --format csv field.yaml\n",
    true};

po::options_description prices_options() {
  po::options_description options;
  add_output_options(options);
  options.add_options()(
      "vary", po::value<std::vector<std::string>>()->composing()->value_name("MATERIAL[=FROM:TO]"),
      "the price per tonne to vary, from a quarter of it to three times it unless told; give it "
      "twice for a map of two prices")(
      "limit", po::value<std::string>()->value_name("RULE=FROM:TO"),
      "vary the limit of a rule instead, named as in reports: 'rate N min=40:90'")(
      "samples", po::value<std::string>()->value_name("COUNT"),
      "points of a curve that cannot be exact (default 41)");
  add_time_limit(options);
  add_scenario_options(options);
  return options;
}

std::vector<std::string> material_names(const Scenario& scenario) {
  std::vector<std::string> names;
  for (const Material& material : scenario.materials()) names.push_back(material.name);
  return names;
}

/// A material of the scenario with its range of prices.
struct VariedPrice {
  std::string material{};
  Limits range{};
};

VariedPrice varied_price(const Scenario& scenario, const std::string& text) {
  const NamedRange named = named_range(text, "--vary");
  const auto position = scenario.index_of(named.name);
  if (!position)
    throw UsageError("--vary names '" + named.name + "', which is no material of the scenario" +
                     did_you_mean(named.name, material_names(scenario)));
  const double now = scenario.materials()[*position].price_per_t;
  if (!named.range && now <= 0)
    throw UsageError("--vary " + named.name + " needs a range, for its price now is not above 0");
  return {named.name, named.range.value_or(Limits{now / 4, now * 3})};
}

int map_limit(const Scenario& scenario, const po::variables_map& options, const Output& output,
              LongWork& work) {
  const NamedRange named = named_range(options["limit"].as<std::string>(), "--limit");
  if (!named.range) throw UsageError("--limit expects RULE=FROM:TO, found '" + named.name + "'");
  const auto either_or = either_or_rules(scenario);
  if (std::find(either_or.begin(), either_or.end(), named.name) != either_or.end())
    throw UsageError("--limit names '" + named.name +
                     "', an either-or rule of the scenario, whose limit cannot be varied");
  const auto names = rules_with_limits(scenario);
  if (std::find(names.begin(), names.end(), named.name) == names.end())
    throw UsageError("--limit names '" + named.name + "', which is no rule of the scenario" +
                     did_you_mean(named.name, names));
  LimitMapOptions how;
  how.limits = work.limits();
  if (options.count("samples") > 0) {
    const double samples = number_of(options["samples"].as<std::string>(), "--samples");
    if (samples < 2 || samples > 100000 || samples != static_cast<int>(samples))
      throw UsageError("--samples expects a whole number from 2 to 100000");
    how.samples = static_cast<int>(samples);
  }
  const auto map = asked(
      [&] { return limit_map(scenario, named.name, named.range->min, named.range->max, how); });
  work.end();
  if (map.exact && options.count("samples") > 0)
    complain("leastwise: --samples has no effect: this curve is exact\n");
  output.write(report_of(map, output));
  return exit_code_of(map.ending);
}

int map_prices(const Scenario& scenario, const std::vector<std::string>& varied,
               const Output& output, LongWork& work) {
  const SolveLimits limits = work.limits();
  const auto first = varied_price(scenario, varied[0]);
  if (varied.size() == 1) {
    const auto map = asked([&] {
      return price_map(scenario, first.material, first.range.min, first.range.max, limits);
    });
    work.end();
    output.write(report_of(map, output));
    return exit_code_of(map.ending);
  }
  const auto second = varied_price(scenario, varied[1]);
  const auto map = asked([&] {
    return price_regions(scenario, first.material, first.range, second.material, second.range,
                         limits);
  });
  work.end();
  output.write(report_of(map, output));
  return exit_code_of(map.ending);
}

int run_prices(const Arguments& arguments) {
  const po::options_description options = prices_options();
  const Parsed given = parsed(arguments, prices_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(prices_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  std::vector<std::string> varied;
  if (given.options.count("vary") > 0)
    varied = given.options["vary"].as<std::vector<std::string>>();
  const bool by_limit = given.options.count("limit") > 0;
  if (varied.empty() && !by_limit)
    throw UsageError("say what to vary: --vary MATERIAL, or --limit RULE=FROM:TO");
  if (by_limit && !varied.empty()) throw UsageError("--vary and --limit are two different maps");
  if (varied.size() > 2) throw UsageError("--vary can be given twice at most");
  LongWork work(given.options);
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  return by_limit ? map_limit(scenario, given.options, output, work)
                  : map_prices(scenario, varied, output, work);
}

}  // namespace

extern const Command prices_command;
const Command prices_command{"prices", "map the least cost over prices or over a rule's limit",
                             run_prices};

}  // namespace leastwise::cli
