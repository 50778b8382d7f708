#pragma once
#include <leastwise/trial.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace leastwise::trial {

/// What a treatment asks of one nutrient. Equal where two treatments ask the same, so that a
/// difference between them is nobody's wish.
struct Asked {
  Limits rate_kg_per_ha{};
  Limits grade_percent{};
  double product_kg_per_ha = 0;  ///< as stated, in the per-tonne basis

  friend bool operator==(const Asked&, const Asked&) = default;
};

/// Of a treatment that is solved; limits stated for the oxide or the element count for both.
[[nodiscard]] Asked asked_of(const Treatment& treatment, std::string_view nutrient);

/// Whether two names are one nutrient: equal, or oxide and element.
[[nodiscard]] bool same_nutrient(std::string_view a, std::string_view b);

/// Treatments that ask the same of `nutrient`: positions, in the order of the trial.
[[nodiscard]] std::vector<std::vector<std::size_t>> asking_alike(
    const Trial& trial, const std::vector<std::size_t>& treatments, std::string_view nutrient);

/// The nutrients that `hold: all` means in this trial: N, P2O5, K2O, S, Ca, Mg, B, Cu, Fe, Mn, Mo,
/// Zn where any of `treatments` has a material with it, and whatever else one of them limits.
[[nodiscard]] std::vector<std::string> all_nutrients(const Trial& trial,
                                                     const std::vector<std::size_t>& treatments);

}  // namespace leastwise::trial
