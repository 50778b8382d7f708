#include "model/purchase.hpp"

#include <utility>

namespace leastwise::model {

void add_purchase(ModelEdit& edit, Model& model, const Purchase& purchase) {
  std::vector<Entry> row{{purchase.column, 1}};
  for (std::size_t k = 0; k < purchase.steps.size(); ++k) {
    const PriceStep& step = purchase.steps[k];
    const int column = edit.add_column(step.cost_per_kg);
    row.push_back({column, -1});
    if (purchase.all && step.from_kg > 0)
      model.minima.push_back({.column = column,
                              .limit = step.from_kg,
                              .kg = step.from_kg,
                              .of = MinimumIfUsed::Of::price_tier,
                              .kg_rate = 1});
    if (!purchase.all && k + 1 < purchase.steps.size())
      model.column_limits.push_back({column, purchase.steps[k + 1].from_kg - step.from_kg});
  }
  model.fixed_rows.push_back({edit.add_row(std::move(row), 0, 0), 0});
}

}  // namespace leastwise::model
