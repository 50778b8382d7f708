#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <cmath>

#include "chemistry/nutrients/composition.hpp"

namespace leastwise {
namespace {

/// Moles of the element or nitrogen form `name` in one mole; 0 for oxides and all other forms.
double moles_of(std::string_view name, const Composition& composition) {
  if (name == "N-urea") return composition.urea_nitrogen;
  if (name == "N-ammonium") return composition.ammonium_nitrogen;
  if (name == "N-nitrate") return composition.nitrate_nitrogen;
  const auto found = composition.atoms.find(name);
  return found == composition.atoms.end() ? 0 : found->second;
}

}  // namespace

double molar_mass(std::string_view formula) { return mass_of(composition_of(formula)); }

std::vector<Content> contents_of_formula(std::string_view formula, double purity_percent) {
  if (!std::isfinite(purity_percent) || purity_percent < 0 || purity_percent > 100) {
    throw std::invalid_argument("a purity must lie between 0 and 100 percent");
  }
  const Composition composition = composition_of(formula);
  const double mass = mass_of(composition);
  std::vector<Content> contents;
  for (const std::string_view name : known_names()) {
    const double moles = moles_of(name, composition);
    if (moles == 0) continue;
    const std::string_view element = parent_of_form(name).value_or(name);
    const double share = moles * *atomic_weight(element) / mass;
    contents.push_back(Content{std::string(name), share * purity_percent});
  }
  return contents;
}

}  // namespace leastwise
