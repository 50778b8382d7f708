#include "chemistry/nutrients/composition.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <span>
#include <vector>

#include "chemistry/nutrients/formula_parts.hpp"

namespace leastwise {
namespace {

/// A run of units, each spelled as in a formula, in which nitrogen has a known form.
struct NitrogenPattern {
  std::array<std::string_view, 6> units{};  ///< empty at the end
  double Composition::*form = nullptr;
  double nitrogen_atoms = 1;
};

constexpr std::array<NitrogenPattern, 6> patterns = {{
    {{"N", "H4"}, &Composition::ammonium_nitrogen, 1},
    {{"N", "O3"}, &Composition::nitrate_nitrogen, 1},
    {{"C", "O", "(NH2)2"}, &Composition::urea_nitrogen, 2},
    {{"(NH2)2", "C", "O"}, &Composition::urea_nitrogen, 2},
    {{"N", "H2", "C", "O", "N", "H2"}, &Composition::urea_nitrogen, 2},
    {{"H2", "N", "C", "O", "N", "H2"}, &Composition::urea_nitrogen, 2},
}};

std::string spelled(const FormulaUnit& unit) {
  std::string text = unit.symbol;
  if (!unit.group.empty()) text.push_back('(');
  for (const FormulaUnit& inner : unit.group) text += spelled(inner);
  if (!unit.group.empty()) text.push_back(')');
  if (unit.count != 1) text += std::to_string(static_cast<long>(unit.count));
  return text;
}

/// How many units from `first` on the pattern covers; 0 when it does not fit there.
std::size_t fit(const NitrogenPattern& pattern, std::span<const std::string> spelled_units,
                std::size_t first) {
  std::size_t length = 0;
  for (const std::string_view wanted : pattern.units) {
    if (wanted.empty()) break;
    if (first + length == spelled_units.size() || spelled_units[first + length] != wanted) return 0;
    ++length;
  }
  return length;
}

/// A sum formula with carbon, such as CH5NO3, may put N and O3 side by side without a nitrate.
void add_nitrogen_forms(std::span<const FormulaUnit> units, double moles, Composition& sum) {
  const bool beside_carbon = std::ranges::find(units, "C", &FormulaUnit::symbol) != units.end();
  std::vector<std::string> spelled_units;
  for (const FormulaUnit& unit : units) spelled_units.push_back(spelled(unit));
  for (std::size_t first = 0; first < units.size(); ++first) {
    for (const NitrogenPattern& pattern : patterns) {
      if (beside_carbon && pattern.form == &Composition::nitrate_nitrogen) continue;
      const std::size_t length = fit(pattern, spelled_units, first);
      if (length == 0) continue;
      sum.*pattern.form += moles * pattern.nitrogen_atoms;
      first += length - 1;
      break;
    }
  }
}

/// Recursion is safe: the parser limits how deep groups are nested.
void add_units(std::span<const FormulaUnit> units, double moles, Composition& sum) {
  add_nitrogen_forms(units, moles, sum);
  for (const FormulaUnit& unit : units) {
    if (unit.group.empty()) {
      sum.atoms[unit.symbol] += moles * unit.count;
    } else {
      add_units(unit.group, moles * unit.count, sum);
    }
  }
}

}  // namespace

Composition composition_of(std::string_view formula) {
  Composition sum;
  for (const FormulaPart& part : parse_formula(formula))
    add_units(part.units, part.multiplier, sum);
  return sum;
}

Composition composition_of_units(const FormulaPart& part) {
  Composition sum;
  add_units(part.units, 1, sum);
  return sum;
}

double mass_of(const Composition& composition) {
  double mass = 0;
  for (const auto& [symbol, moles] : composition.atoms) mass += moles * *atomic_weight(symbol);
  return mass;
}

}  // namespace leastwise
