#pragma once
#include <leastwise/limits.hpp>

#include <cstddef>

#include "model/model.hpp"

namespace leastwise::model {

/// A model for a whole amount of product in place of one hectare or one tonne.
struct Amounted {
  Model model{};
  int amount_column = 0;              ///< kg of product, or hectares
  double per_unit = 1;                ///< what one tonne, or one hectare, is in that column
  std::size_t first_amount_rule = 0;  ///< the rules on the amount: after those of the scenario
};

/// `unit`, which speaks of one hectare or one tonne, for an amount that is a column of its own:
/// the other columns are kg in all, and every limit is multiplied by the amount. Rules keep their
/// order, their limits and the user's units; a rule on a column becomes a row.
///
/// `amount` is in tonnes or hectares, at least 0; its sides are rules of kind `total`.
[[nodiscard]] Amounted for_amount(const Model& unit, const Limits& amount);

}  // namespace leastwise::model
