#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <vector>

namespace leastwise::trial {

/// What is spread on a hectare. The vector runs along the materials of the scenario.
struct Product {
  std::vector<double> kg_per_ha{};
  double binder_kg_per_ha = 0;
  double inert_kg_per_ha = 0;  ///< a carrier that is no material of the scenario

  [[nodiscard]] double total_kg_per_ha() const;
};

/// What a material does in a load. Crystal and fines of a fixed recipe must be ground, and then are
/// powders.
[[nodiscard]] Role role_of(const Material& material);

/// The product of a blend; `product_kg_per_ha` counts in the per-tonne basis only.
[[nodiscard]] Product product_of(const Scenario& scenario, const Blend& blend,
                                 double product_kg_per_ha);

/// The product of a fixed recipe, with the binder its powders need.
[[nodiscard]] Product product_of(const Treatment& treatment);

/// kg per cubic metre of the materials side by side; an unstated one counts as `assumed_density`.
[[nodiscard]] double bulk_density_kg_per_m3(const Scenario& scenario, const Product& product);

/// A light one, so that a load is rather too small than too large. Common practice: 700 to 1400.
inline constexpr double assumed_density_kg_per_m3 = 800;

}  // namespace leastwise::trial
