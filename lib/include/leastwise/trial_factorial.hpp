#pragma once
#include <leastwise/export.h>
#include <leastwise/draft.hpp>
#include <leastwise/limits.hpp>

#include <span>
#include <string>
#include <vector>

namespace leastwise {

/// A nutrient and the rates at which it is tried.
struct Factor {
  std::string nutrient{};                  ///< what is tried
  std::vector<Limits> levels_kg_per_ha{};  ///< each a rate, kg per hectare
};

/// One combination of levels.
struct FactorialCell {
  std::string name{};                          ///< `N60 Zn1`; limits print as `60-66`, `60+`, `-66`
  std::vector<TargetDraft> rates_kg_per_ha{};  ///< one for each factor
};

/// Every combination of the levels of `factors`, the last factor running fastest: three rates of N
/// by two of Zn make six.
[[nodiscard]] LEASTWISE_API std::vector<FactorialCell> factorial_cells(
    std::span<const Factor> factors);

/// Puts the rates of `cell` into `draft`, in place of what it says of the same nutrients.
LEASTWISE_API void set_rates(ScenarioDraft& draft, const FactorialCell& cell);

}  // namespace leastwise
