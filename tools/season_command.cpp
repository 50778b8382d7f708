#include <leastwise/render.hpp>
#include <leastwise/season_load.hpp>
#include <leastwise/season_plan.hpp>

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

constexpr Synopsis season_synopsis{
    "season", "FILE",
    "Plans all blends of the season in FILE ('-': standard input) at once, where they\n"
    "share stock: each recipe, what each shared limit is worth, who takes what is\n"
    "scarce, and what planning one by one would cost. Exit code: 0 planned, 1 input\n"
    "rejected, 2 no plan obeys every rule, 3 stopped before a proof, 64 wrong usage,\n"
    "74 report not written.\n",
    "  leastwise season yard.yaml\n"
    "  leastwise season --format html --output plan.html yard.yaml\n"
    "  leastwise season --format csv --time-limit 60 yard.yaml\n",
    true};

Season season_of(const std::string& file, const po::variables_map& options, const LongWork& work) {
  const LoadOptions how = load_options(options, work);
  const auto text = streamed(file, work);
  return read_under(work, [&] {
    return text ? parse_season(*text, spoken(file), ".", how) : load_season(file, how);
  });
}

int run_season(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, without_pictures);
  add_time_limit(options);
  options.add_options()("allow-outside", "let the season name files outside its own folder");
  const Parsed given = parsed(arguments, season_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(season_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options, without_pictures);
  LongWork work(given.options);
  const Season season = season_of(*given.file, given.options, work);
  const SeasonPlan plan = plan_season(season, work.limits());
  work.end();
  output.write(report_of(plan, output));
  return code_for(plan.outcome.status);
}

}  // namespace

extern const Command season_command;
const Command season_command{"season", "plan many blends over one yard, where stock is shared",
                             run_season};

}  // namespace leastwise::cli
