#include "insight/limit_map_range.hpp"

#include <algorithm>

namespace leastwise::insight {
namespace {

/// `model` with the limit of `rules` as a column of its own, and no cost on anything.
model::Model with_limit_column(const model::Model& model, const std::vector<std::size_t>& rules,
                               const Limits& asked) {
  model::Model out = model;
  for (const auto r : rules) out.rules[r].active = false;
  model::refresh_bounds(out);
  const int column = out.columns++;
  out.material_of.push_back(-1);
  out.is_granule.push_back(0);
  out.family_of.push_back(-1);
  out.column_lower.push_back(asked.min);
  out.column_upper.push_back(asked.max);
  out.cost.assign(static_cast<std::size_t>(out.columns), 0.0);
  for (const auto r : rules) {
    const auto& rule = model.rules[r];
    if (rule.row >= 0) {
      const auto first =
          model.entries.begin() + model.row_start[static_cast<std::size_t>(rule.row)];
      const auto last =
          model.entries.begin() + model.row_start[static_cast<std::size_t>(rule.row) + 1];
      out.entries.insert(out.entries.end(), first, last);
    } else {
      out.entries.push_back({rule.column, 1});
    }
    out.entries.push_back({column, -rule.rhs_rate});
    out.row_start.push_back(static_cast<int>(out.entries.size()));
    out.row_lower.push_back(rule.side == model::Side::max ? -model::infinity : 0);
    out.row_upper.push_back(rule.side == model::Side::min ? model::infinity : 0);
    ++out.rows;
  }
  return out;
}

}  // namespace

PossibleLimits possible_limits(const model::Model& model, const std::vector<std::size_t>& rules,
                               const Limits& asked, const solver::SearchOptions& options) {
  auto extended = with_limit_column(model, rules, asked);
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
