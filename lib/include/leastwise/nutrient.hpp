#pragma once
#include <leastwise/export.h>

#include <optional>
#include <span>
#include <string_view>
#include <vector>

namespace leastwise {

/// Which factors turn an oxide into its element.
///
/// Every calculation of this library uses `atomic_weights`. `eu_2019_1009` are the rounded factors
/// that Regulation (EU) 2019/1009, Annex III Part I point 10, prescribes for labels; they are
/// offered to programs that print such labels and are used nowhere else.
enum class FactorSource {
  atomic_weights,  ///< from `atomic_weight`, unrounded
  eu_2019_1009,    ///< as the regulation prints them
};

/// What a name in a scenario stands for.
enum class NameKind {
  element,   ///< N, P, K, S ...: mass of the element
  oxide,     ///< P2O5, K2O ...: mass of the oxide that holds the element
  form,      ///< N-urea, P2O5-water ...: a part of its parent nutrient
  property,  ///< any other name: what mixes by mass (Cd, biuret, salt-index), or a sum (N + K2O)
};

/// The kind of `name`; names are case-sensitive.
[[nodiscard]] LEASTWISE_API NameKind kind_of(std::string_view name);

/// The nutrient a form is a part of (`N` for `N-urea`); nothing for other names.
[[nodiscard]] LEASTWISE_API std::optional<std::string_view> parent_of_form(std::string_view form);

/// The element behind an element or an oxide (`P` for `P2O5`, `Zn` for `Zn`); nothing otherwise.
[[nodiscard]] LEASTWISE_API std::optional<std::string_view> element_of(std::string_view name);

/// Multiply a mass stated as `from` by this to state it as `to`; 1 when both are the same name.
///
/// Returns: nothing when the two do not share an element, or when `source` prints no factor for
/// the oxide (the regulation has none for SiO2).
[[nodiscard]] LEASTWISE_API std::optional<double> conversion_factor(
    std::string_view from, std::string_view to, FactorSource source = FactorSource::atomic_weights);

/// True for B Cu Fe Mn Mo Zn Co Ni Se: the nutrients whose dedicated granules reach the crop only
/// in part (`granular_micronutrient_factor`).
[[nodiscard]] LEASTWISE_API bool is_micronutrient(std::string_view name);

/// The names that a sum adds up: `N` and `K2O` of `N + K2O`, without the blanks around them. Any
/// other name is its only part.
[[nodiscard]] LEASTWISE_API std::vector<std::string_view> parts_of_sum(std::string_view name);

/// Whether figures of that name are percentages by mass. All are but properties that have a unit of
/// their own in their name: it ends in `-index` or holds `-per-`, as `salt-index` and
/// `Cd-mg-per-kg` do. These mix by mass too.
[[nodiscard]] LEASTWISE_API bool is_percentage(std::string_view name);

/// Every name the format knows, in label order: elements, oxides, forms.
[[nodiscard]] LEASTWISE_API std::span<const std::string_view> known_names();

/// Standard or conventional atomic weight, grams per mole; nothing for an unknown symbol.
/// Source: IUPAC (revisions of 2013 to 2016), see lib/data/atomic_weights.csv.
[[nodiscard]] LEASTWISE_API std::optional<double> atomic_weight(std::string_view symbol);

}  // namespace leastwise
