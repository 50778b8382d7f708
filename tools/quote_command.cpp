#include <leastwise/formulate.hpp>
#include <leastwise/render.hpp>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "landscape_input.hpp"
#include "long_work.hpp"
#include "output.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis quote_synopsis{
    "quote", "FILE",
    "Finds the cheapest blend of the scenario in FILE ('-': standard input) and says\n"
    "what a tonne of it, and the order under 'make', costs the customer: materials\n"
    "with freight, fee, overhead, bags, margin and freight to the customer, by the\n"
    "terms under 'quote'; with the declared analysis. Exit code: 0 quoted, 1 input\n"
    "rejected, 2 no blend obeys every rule, 3 stopped before a proof, 64 wrong\n"
    "usage, 74 report not written.\n",
    "  leastwise quote field.yaml\n"
    "  leastwise quote --format html --output quote.html field.yaml\n"
    "  leastwise quote --format csv --price urea=520 field.yaml\n",
    true};

int run_quote(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, without_pictures);
  add_time_limit(options);
  add_scenario_options(options);
  const Parsed given = parsed(arguments, quote_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(quote_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options, without_pictures);
  LongWork work(given.options);
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  const SolveOptions limits = work.limits();
  const Formulation answer = formulate(scenario, {.time_limit = limits.time_limit,
                                                  .stop = limits.stop,
                                                  .intervals = false,
                                                  .progress = limits.progress});
  work.end();
  if (const Blend* blend = answer.blend()) {
    output.write(report_of(quote_of(scenario, *blend), output, spoken(*given.file)));
    return blend_found;
  }
  output.write(report_of(answer, output));
  return answer.conflict() != nullptr ? infeasible : stopped;
}

}  // namespace

extern const Command quote_command;
const Command quote_command{"quote", "price the blend for a customer, with its declared analysis",
                            run_quote};

}  // namespace leastwise::cli
