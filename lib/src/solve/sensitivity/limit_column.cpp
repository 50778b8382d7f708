#include "solve/sensitivity/limit_column.hpp"

namespace leastwise::solve {

model::Model with_limit_column(const model::Model& model, const std::vector<std::size_t>& rules,
                               const Limits& range) {
  model::Model out = model;
  for (const auto r : rules) out.rules[r].active = false;
  model::refresh_bounds(out);
  const int column = out.columns++;
  out.is_granule.push_back(0);
  out.family_of.push_back(-1);
  out.column_lower.push_back(range.min);
  out.column_upper.push_back(range.max);
  out.cost.push_back(0);
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
    out.row_lower.push_back(rule.side == RuleSide::max ? -model::infinity : 0);
    out.row_upper.push_back(rule.side == RuleSide::min ? model::infinity : 0);
    ++out.rows;
  }
  return out;
}

}  // namespace leastwise::solve
