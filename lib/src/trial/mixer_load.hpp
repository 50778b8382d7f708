#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "trial/product.hpp"
#include "trial/stock_mix.hpp"

namespace leastwise::trial {

/// From this mass on a drum mixer is used rather than a sealed bucket: common practice.
inline constexpr double bucket_limit_kg = 10;

/// kg of product that something of these capacities takes; the smaller of the two.
[[nodiscard]] double capacity_kg(const std::optional<double>& kg,
                                 const std::optional<double>& litres,
                                 double bulk_density_kg_per_m3);

/// The mixer for so much product: the kind that common practice asks for where there is one, then
/// the smallest that takes it at once, then the largest.
[[nodiscard]] const Mixer& mixer_for(std::span<const Mixer> mixers, double mass_kg,
                                     double bulk_density_kg_per_m3);

/// Rounds a load of `load_mg` to the balances. A material that a mix of `uses` brings has no row of
/// its own, a carrier that the load holds anyway a smaller one. No row is 0.
///
/// Each material is rounded to the nearest digit of its balance. Where the load then falls short,
/// the granule on which a digit matters least is topped up, so that it weighs at least `load_mg`.
[[nodiscard]] std::vector<Weighing> rounded_load(const Trial& trial, const Scenario& scenario,
                                                 const Product& product,
                                                 const std::vector<MixUse>& uses,
                                                 const std::vector<StockMix>& mixes,
                                                 std::int64_t load_mg);

/// Splits each weighing into what its balance carries at once.
void split_weighings(std::span<const Balance> balances, std::vector<Weighing>& weighings);

/// The sum of all rows.
[[nodiscard]] std::int64_t mass_of_load(const std::vector<Weighing>& weighings);

}  // namespace leastwise::trial
