#pragma once
#include <leastwise/price_tier.hpp>

#include <cstddef>
#include <vector>

namespace leastwise {

/// The last tier that `tonnes` reach, up to rounding; `tiers` are not empty.
[[nodiscard]] std::size_t tier_reached(const std::vector<PriceTier>& tiers, double tonnes);

/// Currency per tonne of `tonnes`, on the average.
[[nodiscard]] double price_by_quantity(const std::vector<PriceTier>& tiers, TierPrice price,
                                       double tonnes);

}  // namespace leastwise
