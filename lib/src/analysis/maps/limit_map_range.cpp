#include "analysis/maps/limit_map_range.hpp"

#include <algorithm>
#include <cmath>

#include "solve/sensitivity/limit_column.hpp"

namespace leastwise::analysis {

namespace {

/// `limit`, or the limit of another rule on the same row or column that it is within rounding of:
/// there the two meet, and a hair beside that each would be a rule of its own.
double snapped(const model::Model& model, const std::vector<std::size_t>& rules, double limit) {
  for (const auto r : rules)
    for (const auto& other : model.rules) {
      const auto& rule = model.rules[r];
      if (!other.active || other.row != rule.row || other.column != rule.column) continue;
      if (other.rhs_derivative != rule.rhs_derivative || other.side == rule.side) continue;
      if (std::fabs(other.limit - limit) <= 1e-9 * std::max(1.0, std::fabs(limit)))
        return other.limit;
    }
  return limit;
}

}  // namespace

PossibleLimits possible_limits(const model::Model& model, const std::vector<std::size_t>& rules,
                               const Limits& asked, const solver::SearchOptions& options) {
  auto extended = solve::with_limit_column(model, rules, asked);
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
        std::clamp(snapped(model, rules, found.x.back()), asked.min, asked.max);
  }
  return possible;
}

}  // namespace leastwise::analysis
