#pragma once
#include <functional>
#include <map>
#include <string>
#include <string_view>

namespace leastwise {

struct FormulaPart;

/// What one mole of a compound is made of.
struct Composition {
  std::map<std::string, double, std::less<>> atoms{};  ///< moles of each element, by symbol
  double urea_nitrogen = 0;                            ///< moles of N bound as CO(NH2)2
  double ammonium_nitrogen = 0;                        ///< moles of N bound as NH4
  double nitrate_nitrogen = 0;                         ///< moles of N bound as NO3
};

/// Throws: FormulaError.
[[nodiscard]] Composition composition_of(std::string_view formula);

/// The units of one part alone, the number before it left out: whole numbers of moles.
[[nodiscard]] Composition composition_of_units(const FormulaPart& part);

/// Grams per mole.
[[nodiscard]] double mass_of(const Composition& composition);

}  // namespace leastwise
