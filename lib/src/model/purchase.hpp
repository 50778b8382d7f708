#pragma once
#include <vector>

#include "model/model_edit.hpp"

namespace leastwise::model {

/// What a kg more costs, from an amount bought on.
struct PriceStep {
  double from_kg = 0;
  double cost_per_kg = 0;  ///< on top of what the column itself costs; may be below 0
};

/// The price of what is in `column`, by how much that is.
///
/// `steps` rise in `from_kg`; the first begins at 0. Of `all`, each price is that of every kg once
/// the amount reaches `from_kg`, and prices must fall: then a split between two of them is never
/// cheaper, so a column a step, each at 0 or at least at its beginning, says it exactly. Otherwise
/// each price is that of the kg beyond `from_kg`, and prices must rise: bounded columns.
struct Purchase {
  int column = 0;
  bool all = true;
  std::vector<PriceStep> steps{};
};

/// Adds the columns of `purchase`, and the row that makes them the column bought. Bounds are whole
/// after `refresh_bounds`.
void add_purchase(ModelEdit& edit, Model& model, const Purchase& purchase);

}  // namespace leastwise::model
