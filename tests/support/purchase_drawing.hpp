#pragma once
#include <leastwise/draft.hpp>

#include <cstdint>

namespace leastwise::support {

/// Falling or rising tiers for some materials, lots for others, of a size that matters. `total` is
/// the mass of the product per unit of the basis, in kg.
void draw_purchases(ScenarioDraft& draft, std::uint64_t seed, double total);

}  // namespace leastwise::support
