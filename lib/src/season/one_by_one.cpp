#include <algorithm>

#include "season/planner.hpp"
#include "solve/answer_parts.hpp"

namespace leastwise::season {
namespace {

/// The limits with nothing taken yet: who comes first takes no heed of what must be taken.
std::vector<Limits> open_limits(const Season& season) {
  auto limits = stated_limits(season);
  for (auto& limit : limits) limit.min = Limits{}.min;
  return limits;
}

}  // namespace

Known<OneByOne> plan_one_by_one(const Season& season, const solve::TimeLeft& time) {
  auto left = open_limits(season);
  std::vector<MadeBlend> made(season.blends().size());
  double cost = fixed_money(season);
  for (std::size_t b = 0; b < made.size(); ++b) {
    if (time.is_over()) return {};
    const SeasonModel model(season, {b}, left);
    const auto found =
        solver::search(model.model(), solver::asked(solve::counted_search_options(time.options())));
    if (found.status == solver::SearchStatus::infeasible)
      return OneByOne{Status::infeasible, {}, b};
    if (found.status != solver::SearchStatus::optimal) return {};
    const auto blends = confirmed_blends(season, model, left, found.x);
    if (!blends) return {};
    made[b] = blends->blends.front();
    cost += found.cost;
    for (std::size_t s = 0; s < left.size(); ++s) {
      const SharedLimit& limit = season.shared()[s];
      if (season.blends()[b].period > limit.period) continue;
      left[s].max -= kg_of_material(season.blends()[b], made[b], limit.material);
      left[s].max = std::max(0.0, left[s].max);
    }
  }
  const auto use = shared_use(season, made);
  for (std::size_t s = 0; s < use.size(); ++s) {
    const Limits& kg = season.shared()[s].kg;
    if (kg.has_min() && use[s] < kg.min * (1 - 1e-9)) return OneByOne{Status::infeasible, {}, {}};
  }
  return OneByOne{Status::optimal, cost, {}};
}

}  // namespace leastwise::season
