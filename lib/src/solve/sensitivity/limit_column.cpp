#include "solve/sensitivity/limit_column.hpp"

#include <utility>

#include "model/model_edit.hpp"

namespace leastwise::solve {

model::Model with_limit_column(const model::Model& model, const std::vector<std::size_t>& rules,
                               const Limits& range) {
  model::Model out = model;
  for (const auto r : rules) out.rules[r].active = false;
  model::refresh_bounds(out);
  {
    model::ModelEdit edit(out);
    const int column = edit.add_column(0, range.max);
    out.column_lower.back() = range.min;
    for (const auto r : rules) {
      const auto& rule = model.rules[r];
      std::vector<model::Entry> row{{rule.column, 1}};
      if (rule.row >= 0) row = edit.row(rule.row);
      row.push_back({column, -rule.rhs_derivative});
      edit.add_row(std::move(row), rule.side == RuleSide::max ? -model::infinity : 0,
                   rule.side == RuleSide::min ? model::infinity : 0);
    }
  }
  return out;
}

}  // namespace leastwise::solve
