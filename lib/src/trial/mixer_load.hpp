#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstdint>
#include <optional>

#include "trial/product.hpp"

namespace leastwise::trial {

/// From this mass on a drum mixer is used rather than a sealed bucket: common practice.
inline constexpr double bucket_limit_kg = 10;

/// kg of product that something of these capacities takes; the smaller of the two.
[[nodiscard]] double capacity_kg(const std::optional<double>& kg,
                                 const std::optional<double>& litres,
                                 double bulk_density_kg_per_m3);

/// Chooses the mixer for `needed_mg` of product, splits it into equal loads and rounds each load to
/// the balances. Fills mixer, loads, weighings and total of `plan`.
///
/// Each material is rounded to the nearest digit of its balance. Where the load then falls short of
/// its share, the granule on which a digit matters least is topped up, so that loads add up to at
/// least `needed_mg`.
void plan_loads(const Trial& trial, const Scenario& scenario, const Product& product,
                std::int64_t needed_mg, TreatmentPlan& plan);

}  // namespace leastwise::trial
