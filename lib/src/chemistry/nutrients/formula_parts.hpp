#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// An element or a bracketed group with the count behind it.
struct FormulaUnit {
  std::string symbol{};              ///< empty for a group
  std::vector<FormulaUnit> group{};  ///< empty for an element
  double count = 1;
};

/// What stands between two hydrate dots, with the number before it.
struct FormulaPart {
  double multiplier = 1;
  std::vector<FormulaUnit> units{};
};

/// The structure of a chemical formula; all symbols are known elements.
///
/// Throws: FormulaError. Nesting, length and counts are limited far above any real compound.
[[nodiscard]] std::vector<FormulaPart> parse_formula(std::string_view formula);

}  // namespace leastwise
