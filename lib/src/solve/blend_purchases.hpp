#pragma once
#include <leastwise/formulation.hpp>

namespace leastwise::solve {

/// Whether a material has price tiers or a minimum lot.
[[nodiscard]] inline bool is_bought_by_quantity(const Material& material) {
  return !material.price_tiers.empty() || material.minimum_lot_t.has_value();
}

/// What `tonnes` of it come to.
[[nodiscard]] BlendPurchase purchase_of(const Material& material, double tonnes);

}  // namespace leastwise::solve
