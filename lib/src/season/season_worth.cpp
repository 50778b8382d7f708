#include <algorithm>
#include <cmath>

#include "scenario/units.hpp"
#include "season/planner.hpp"
#include "solve/sensitivity/interval.hpp"
#include "solve/shadow_price.hpp"

namespace leastwise::season {
namespace {

/// A limit within this share of its size is reached.
constexpr double reached = 1e-9;

Known<double> per_tonne(const Known<double>& per_kg) {
  if (!per_kg) return per_kg;
  return *per_kg * kg_per_tonne + 0.0;
}

}  // namespace

void add_slack(SharedLimitPlan& limit, bool no_other_choice) {
  const bool max = limit.side == RuleSide::max;
  auto& tighter = max ? limit.price_below_per_t : limit.price_above_per_t;
  auto& looser = max ? limit.price_above_per_t : limit.price_below_per_t;
  (max ? limit.holds_from_kg : limit.holds_to_kg) = limit.used_kg;
  tighter = 0.0;
  if (!no_other_choice) return;
  (max ? limit.holds_to_kg : limit.holds_from_kg) = Known<double>::none();
  looser = 0.0;
  limit.unique = true;
}

void add_worth(const SeasonModel& model, const solver::SearchResult& found,
               const solver::SearchOptions& search, SeasonPlan& plan) {
  const auto& joined = model.joined();
  solve::PriceIntervals intervals(joined.model, found, search);
  for (std::size_t s = 0; s < plan.shared.size(); ++s) {
    SharedLimitPlan& limit = plan.shared[s];
    const std::size_t r = joined.first_shared + s;
    if (std::fabs(limit.used_kg - limit.limit_kg) >
        reached * std::max(1.0, std::fabs(limit.limit_kg))) {
      add_slack(limit, !joined.model.either_or());
      continue;
    }
    const double price = solve::shadow_price(joined.model, r, found);
    limit.shadow_price_per_t = price * kg_per_tonne + 0.0;
    const auto interval = intervals.of(r, price);
    limit.holds_from_kg = interval.from;
    limit.holds_to_kg = interval.to;
    limit.price_below_per_t = per_tonne(interval.price_below);
    limit.price_above_per_t = per_tonne(interval.price_above);
    limit.unique = interval.unique;
  }
  for (std::size_t b = 0; b < model.size(); ++b) {
    const int r = model.exact_amount_rule(b);
    if (r >= 0)
      plan.blends[model.blend(b)].marginal_cost =
          solve::shadow_price(joined.model, static_cast<std::size_t>(r), found) + 0.0;
  }
}

}  // namespace leastwise::season
