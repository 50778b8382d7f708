#pragma once
#include <leastwise/material.hpp>

#include <optional>

namespace leastwise {

/// g of `material` that a litre of water takes up at 20 C: of a built-in material, or of one with
/// the formula of one. Nothing where the table does not know it.
///
/// Compounds of selenium are not in the table: what is so toxic is not sprayed.
[[nodiscard]] std::optional<double> solubility_g_per_l(const Material& material);

}  // namespace leastwise
