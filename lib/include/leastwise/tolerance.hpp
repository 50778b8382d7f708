#pragma once
#include <leastwise/export.h>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// Published label tolerances: how far an analysis may lie below (or above) what a label declares.
///
/// They allow for the error of sampling and analysis. They are no licence to fill less.
enum class LabelTolerance {
  aafco,         ///< investigational allowances of the AAPFCO uniform policy, as states adopt them
  eu_2019_1009,  ///< Regulation (EU) 2019/1009, Annex III Part III, solid inorganic macronutrient
};

/// `aafco`, `eu-2019-1009`: the spelling in scenario files.
[[nodiscard]] LEASTWISE_API std::string_view to_string(LabelTolerance tolerance);
/// The tolerance of that spelling; nothing when there is none.
[[nodiscard]] LEASTWISE_API std::optional<LabelTolerance> label_tolerance(std::string_view name);

/// What a declaration of one nutrient may be off by.
struct Allowance {
  double below = 0;               ///< percentage points under the declared content
  std::optional<double> above{};  ///< over it; empty: the scheme sets no such limit
  std::string source{};           ///< publication; says so where it was recalled, not read
  bool seen = false;              ///< false: from memory
};

/// The allowance for a declared content.
///
/// `primary_nutrients` is how many of N, P2O5 and K2O the label declares (0 to 3): the European
/// scheme allows more for compounds. A nutrient is named as the scheme names it (P2O5 not P).
/// Returns: nothing when the scheme has no row for the nutrient at that content.
/// Throws: std::invalid_argument for a declared content outside 0 to 100.
[[nodiscard]] LEASTWISE_API std::optional<Allowance> allowance(LabelTolerance tolerance,
                                                               std::string_view nutrient,
                                                               double declared_percent,
                                                               int primary_nutrients);

/// The names that a scheme has rows for.
[[nodiscard]] LEASTWISE_API std::vector<std::string> nutrients_of(LabelTolerance tolerance);

}  // namespace leastwise
