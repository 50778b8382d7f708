#include "insight/limit_map_range.hpp"

#include <algorithm>

#include "insight/limit_column.hpp"

namespace leastwise::insight {

PossibleLimits possible_limits(const model::Model& model, const std::vector<std::size_t>& rules,
                               const Limits& asked, const solver::SearchOptions& options) {
  auto extended = with_limit_column(model, rules, asked);
  std::fill(extended.cost.begin(), extended.cost.end(), 0.0);
  PossibleLimits possible;
  possible.limits = asked;
  for (const double direction : {1.0, -1.0}) {
    extended.cost.back() = direction;
    ++possible.solves;
    const auto found = solver::search(extended, options);
    possible.status = found.status;
    if (found.status != solver::SearchStatus::optimal) return possible;
    (direction > 0 ? possible.limits.min : possible.limits.max) =
        std::clamp(found.x.back(), asked.min, asked.max);
  }
  return possible;
}

}  // namespace leastwise::insight
