#pragma once
#include <leastwise/scenario.hpp>
#include <leastwise/trial_mix.hpp>

#include <cstdint>
#include <vector>

#include "trial/product.hpp"

namespace leastwise::trial {

/// kg of one granule of `material`: a sphere of its median diameter (3 mm where no size is stated)
/// of the density of its bulk divided by 0.6, the share of space that spheres poured at random fill
/// (common practice; random packings of equal spheres fill 0.55 to 0.64 of it).
[[nodiscard]] double granule_kg(const Material& material);

/// How far chance alone moves the share of each granular material in a plot's product of `plot_mg`,
/// if the load is mixed as well as can be. See `ShareVariation`.
[[nodiscard]] std::vector<ShareVariation> share_variation(const Scenario& scenario,
                                                          const Product& product,
                                                          std::int64_t plot_mg);

}  // namespace leastwise::trial
