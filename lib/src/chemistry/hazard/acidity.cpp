#include "chemistry/hazard/acidity.hpp"

#include <array>

namespace leastwise {
namespace {

bool is_strong_acid(const Compound& compound) {
  constexpr std::array<std::string_view, 5> of_acid{"H", "S", "P", "N", "O"};
  constexpr std::array<std::string_view, 5> of_halide{"H", "F", "Cl", "Br", "I"};
  if (compound.only(of_halide)) return true;
  return compound.only(of_acid) && compound.has("O") &&
         compound.composition().ammonium_nitrogen == 0 && compound.open_nitrogen() <= near_zero &&
         (compound.has("S") || compound.has("P") || compound.has("N"));
}

/// Fewer charges on the metals and ammonium than sulfate takes: hydrogen carries the rest.
bool is_acid_sulfate(const Compound& compound) {
  if (!compound.has("S") || compound.has("P") || compound.open_nitrogen() > near_zero) return false;
  double cations = compound.composition().ammonium_nitrogen;
  for (const auto& [symbol, count] : compound.composition().atoms) {
    if (is_metal(symbol)) cations += count * highest_state(symbol);
  }
  return cations < 2 * compound.moles("S") - 0.1;
}

/// Oxides, hydroxides and silicates of alkali and earth metals. Minerals with little of them for
/// their silica, such as talc and feldspar, do not react.
bool is_base(const Compound& compound) {
  const double bases = compound.alkali() + compound.earth();
  if (bases <= 0 || !compound.has("O") || compound.halogen() > 0) return false;
  const double others = compound.sum_of([](std::string_view s) {
    return s != "H" && s != "O" && s != "Si" && s != "Al" && !is_alkali_metal(s) &&
           !is_earth_metal(s);
  });
  if (others > 0) return false;
  const double silicon = compound.moles("Si");
  if (silicon == 0) return true;
  constexpr double of_soluble_glass = 0.4;  // alkali metal for each silicon
  constexpr double of_wollastonite = 0.9;   // earth metal for each silicon
  return !compound.has("Al") && (compound.alkali() > of_soluble_glass * silicon ||
                                 compound.earth() > of_wollastonite * silicon);
}

/// Carbonates, tertiary phosphates and sulfides of alkali metals; sulfides of earth metals.
bool is_alkaline_salt(const Compound& compound) {
  const double alkali = compound.alkali();
  const bool carbonate = compound.has("C") && !compound.has("N") && compound.earth() == 0 &&
                         alkali > compound.moles("C") + near_zero;
  const bool phosphate =
      compound.has("P") && compound.has("O") && alkali > 2.5 * compound.moles("P");
  const bool sulfide = compound.has("S") && compound.taken() == 0 && alkali + compound.earth() > 0;
  return carbonate || phosphate || sulfide;
}

bool is_ammonia_water(const Compound& compound) {
  constexpr std::array<std::string_view, 3> elements{"N", "H", "O"};
  return compound.only(elements) && compound.composition().ammonium_nitrogen > 0 &&
         compound.composition().nitrate_nitrogen == 0 && compound.open_nitrogen() <= near_zero;
}

}  // namespace

std::string_view acid_in(const Compound& compound) {
  const double hydrogen = compound.moles("H") - 4 * compound.composition().ammonium_nitrogen;
  if (hydrogen <= 0 || compound.has("C")) return {};
  if (is_strong_acid(compound)) return "is that of a strong acid";
  return is_acid_sulfate(compound) ? "is that of an acid salt of sulfuric acid"
                                   : std::string_view();
}

std::string_view base_in(const Compound& compound) {
  if (is_base(compound)) {
    return compound.has("Si") ? "is that of an alkaline silicate" : "is that of a strong base";
  }
  if (is_alkaline_salt(compound)) return "is that of a strongly alkaline salt";
  return is_ammonia_water(compound) ? "is that of ammonia in water" : std::string_view();
}

}  // namespace leastwise
