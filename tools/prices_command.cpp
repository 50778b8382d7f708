#include <algorithm>
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
      "the price per tonne to vary, default: a quarter of today's price to three times it; give it "
      "twice for a map of two prices")(
      "limit", po::value<std::string>()->value_name("RULE=FROM:TO"),
      "vary the limit of a rule instead, named as in reports: 'rate N min=40:90'")(
      "samples", po::value<std::string>()->value_name("COUNT"),
      "points of a curve that cannot be exact (default 41)");
  add_time_limit(options);
  add_scenario_options(options);
  return options;
}

PricesQuestion prices_asked(const po::variables_map& options) {
  PricesQuestion question;
  if (options.count("vary") > 0)
    for (const auto& text : options["vary"].as<std::vector<std::string>>()) {
      const NamedRange named = named_range(text, "--vary");
      question.vary.push_back({named.name, named.range});
    }
  if (options.count("limit") > 0) {
    const NamedRange named = named_range(options["limit"].as<std::string>(), "--limit");
    if (!named.range) throw UsageError("--limit expects RULE=FROM:TO, found '" + named.name + "'");
    question.limit = VariedLimit{named.name, *named.range};
  }
  if (const auto samples = whole_number_of(options, "samples"))
    question.samples = static_cast<int>(std::clamp(*samples, -1L, 1'000'000L));
  if (question.vary.empty() && !question.limit)
    throw UsageError("say what to vary: --vary MATERIAL, or --limit RULE=FROM:TO");
  if (!question.vary.empty() && question.limit)
    throw UsageError("--vary and --limit are two different maps");
  if (question.vary.size() > 2) throw UsageError("--vary can be given twice at most");
  return question;
}

int run_prices(const Arguments& arguments) {
  const po::options_description options = prices_options();
  const Parsed given = parsed(arguments, prices_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(prices_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  const PricesQuestion question = prices_asked(given.options);
  LongWork work(given.options);
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  const Answer answer = asked([&] { return ask(scenario, question, work.limits()); });
  work.end();
  const auto* map = std::get_if<LimitMap>(&answer);
  if (map != nullptr && map->exact && question.samples)
    complain("leastwise: --samples has no effect: this curve is exact\n");
  output.write(report_of(answer, output, {}));
  return code_after(answer);
}

}  // namespace

extern const Command prices_command;
const Command prices_command{"prices", "map the least cost over prices or over a rule's limit",
                             run_prices};

}  // namespace leastwise::cli
