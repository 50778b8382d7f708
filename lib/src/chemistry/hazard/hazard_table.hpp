#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "chemistry/hazard/folded_name.hpp"
#include "chemistry/hazard/hazards.hpp"
#include "chemistry/nutrients/composition.hpp"

namespace leastwise {

/// A row of lib/data/hazards.csv: what a family, a word or a formula stands for.
struct HazardRow {
  std::string text{};
  bool has_hazard = false;
  HazardClass kind = HazardClass::refused;
  std::string detail{};  ///< the symbol behind `toxic-element:`
  std::string family{};  ///< empty, or the family of the compatibility table
  std::string reason{};
  std::string source{};
};

/// A formula with a clear family.
struct FormulaRow {
  std::string formula{};
  Composition composition{};
  std::string family{};
};

/// The rows listed for a family of the compatibility table.
[[nodiscard]] std::vector<const HazardRow*> rows_of_family(std::string_view family);

/// The rows whose text is in a name. Those for letters that trades use count only
/// `beside_nitrogen`; `as_binder` adds those that speak of a binder only.
[[nodiscard]] std::vector<const HazardRow*> rows_of_name(const FoldedName& name,
                                                         bool beside_nitrogen, bool as_binder);

/// Whether a word of the name says that a material is of mineral kind, as sand and clay are.
[[nodiscard]] bool is_called_mineral(const FoldedName& name);

/// The hazards that a property's name shows: `organic-C` has one, `moisture` none. The words of
/// materials count too, but in names that say how a nutrient dissolves: `citrate-soluble`.
[[nodiscard]] std::vector<const HazardRow*> rows_of_property(std::string_view name);

[[nodiscard]] const std::vector<FormulaRow>& formula_rows();

}  // namespace leastwise
