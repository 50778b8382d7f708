#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/material.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "support/random.hpp"

namespace leastwise::support {

/// The blend around which a random scenario's rules are drawn, per tonne of product.
struct HiddenBlend {
  std::vector<double> kg_per_t{};  ///< along the materials
  double binder_share = 0.375;     ///< binder per powder
  double factor = 3;               ///< granular micronutrient factor of this scenario
  double boron_factor = 3;

  [[nodiscard]] bool uses(std::size_t i) const { return kg_per_t[i] > 0; }
};

/// Percent of `name` in the product; `reached` counts micronutrient granules only in part.
[[nodiscard]] double percent_in(const HiddenBlend& blend, const std::vector<Material>& goods,
                                std::string_view name, bool reached);

/// True when neither the built-in table nor the draft keeps the two families apart.
[[nodiscard]] bool may_lie_together(const ScenarioDraft& draft, const std::string& family_a,
                                    const std::string& family_b);

/// Draws a mix of compatible granules with some coating on them, at most `coating_percent`.
[[nodiscard]] HiddenBlend draw_hidden_blend(Random& random, const ScenarioDraft& draft,
                                            const std::vector<Material>& goods,
                                            double coating_percent, double binder_share);

}  // namespace leastwise::support
