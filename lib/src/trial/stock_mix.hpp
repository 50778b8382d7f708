#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstdint>
#include <string>
#include <vector>

#include "trial/product.hpp"

namespace leastwise::trial {

/// How much of a stock mix a treatment takes.
struct MixUse {
  std::size_t mix = 0;   ///< into the list of mixes
  double kg_per_ha = 0;  ///< of the mix
};

/// A treatment with powders that its balance cannot carry.
struct NeedyTreatment {
  std::size_t treatment = 0;
  const Scenario* scenario = nullptr;
  const Product* product = nullptr;  ///< without any carrier
  std::int64_t loads = 1;
  double load_mg_per_kg_per_ha = 0;  ///< what one kg/ha of a material weighs in a load
};

/// The mixes that `needy` treatments need, and what each of them takes.
struct MixPlan {
  std::vector<StockMix> mixes{};
  std::vector<std::vector<MixUse>> uses{};  ///< along `needy`
};

/// Whether a powder of so much per load is too little for the balances: below 50 digits.
[[nodiscard]] bool is_too_little(const Trial& trial, double target_mg);

/// Plans the stock mixes. Powders that stand in the same ratio in all treatments that need them
/// share one; a powder of several treatments is mixed once for all of them.
///
/// With p = 75 digits and m the least of its powders in any load, one part in D = p / m (rounded
/// up) is needed, in the fewest steps of at most one part in ten. The carrier is the largest other
/// powder that every load can give so much of; else the trial's own carrier, or an inert powder,
/// on top.
[[nodiscard]] MixPlan plan_mixes(const Trial& trial, const std::vector<NeedyTreatment>& needy);

/// `Cu`: the micronutrient that a powder is for; its name where it carries none.
[[nodiscard]] std::string subject_of(const Material& powder);

/// `product` with the carrier that its mixes add, and the binder for that.
[[nodiscard]] Product with_carriers(const Scenario& scenario, Product product,
                                    const std::vector<MixUse>& uses,
                                    const std::vector<StockMix>& mixes);

/// The load with each row of a mix replaced by what it holds, to the milligram.
[[nodiscard]] std::vector<Weighing> taken_apart(const std::vector<Weighing>& load,
                                                const std::vector<StockMix>& mixes);

/// `mass_mg` of a mix in its parts, to the milligram.
[[nodiscard]] std::vector<std::int64_t> parts_of_mix(const StockMix& mix, std::int64_t mass_mg);

/// What is called so in every report.
inline constexpr std::string_view unnamed_carrier = "inert carrier";

}  // namespace leastwise::trial
