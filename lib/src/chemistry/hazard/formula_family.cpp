#include <leastwise/formula.hpp>

#include <cmath>
#include <optional>
#include <string>

#include "chemistry/hazard/compound.hpp"
#include "chemistry/hazard/formula_hazards.hpp"
#include "chemistry/hazard/hazard_table.hpp"

namespace leastwise {
namespace {

/// Whether `atoms` is `times` that of `row`, with water on top unless carbon is in it: carbonates
/// of ammonium are urea and water by their count of atoms.
bool is_same_compound(const Composition& atoms, const Composition& row) {
  double times = 0;
  for (const auto& [symbol, moles] : row.atoms) {
    if (symbol == "H" || symbol == "O") continue;
    const auto found = atoms.atoms.find(symbol);
    if (found == atoms.atoms.end()) return false;
    if (times == 0) times = found->second / moles;
    if (std::abs(found->second - times * moles) > near_zero * times) return false;
  }
  for (const auto& [symbol, moles] : atoms.atoms) {
    if (symbol != "H" && symbol != "O" && !row.atoms.contains(symbol)) return false;
  }
  const auto surplus = [&](std::string_view symbol) {
    const auto have = atoms.atoms.find(symbol);
    const auto want = row.atoms.find(symbol);
    return (have == atoms.atoms.end() ? 0 : have->second) -
           (want == row.atoms.end() ? 0 : times * want->second);
  };
  const double hydrogen = surplus("H");
  const double oxygen = surplus("O");
  const bool exact = row.atoms.contains("C") || !row.atoms.contains("O");
  // An allotrope is no more than its element: S8.
  if (exact && row.atoms.contains("O"))
    return std::abs(hydrogen) < near_zero && std::abs(oxygen) < near_zero;
  if (row.atoms.size() == 1) return std::abs(hydrogen) < near_zero && std::abs(oxygen) < near_zero;
  return oxygen > -near_zero && hydrogen > -near_zero &&
         std::abs(hydrogen - 2 * oxygen) < near_zero * times;
}

std::optional<Composition> read_composition(std::string_view formula) {
  try {
    return composition_of(formula);
  } catch (const FormulaError&) {
    return std::nullopt;  // the reader of the material says so
  }
}

}  // namespace

std::string family_of_formula(std::string_view formula) {
  const auto whole = read_composition(formula);
  if (!whole) return {};
  for (const auto& row : formula_rows()) {
    if (is_same_compound(*whole, row.composition)) return row.family;
  }
  return {};
}

}  // namespace leastwise
