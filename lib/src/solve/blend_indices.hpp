#pragma once
#include <leastwise/blend_indices.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/scenario.hpp>

#include <span>
#include <string_view>

namespace leastwise::solve {

/// The mean of a published figure, `salt-index` or `lime-need`, over the product.
[[nodiscard]] BlendIndex index_of(const Scenario& scenario, std::span<const Portion> portions,
                                  std::string_view name);

/// Whether the scenario asks for the figures: by `indices`, or by a limit on one of them.
[[nodiscard]] bool asks_for_indices(const Scenario& scenario);

[[nodiscard]] BlendIndices blend_indices(const Scenario& scenario,
                                         std::span<const Portion> portions,
                                         std::optional<double> total_kg_per_ha);

}  // namespace leastwise::solve
