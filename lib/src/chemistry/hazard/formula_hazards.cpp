#include "chemistry/hazard/formula_hazards.hpp"

#include <leastwise/formula.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "chemistry/hazard/hazard_table.hpp"
#include "chemistry/nutrients/composition.hpp"
#include "chemistry/nutrients/formula_parts.hpp"

namespace leastwise {
namespace {

constexpr double near_zero = 0.05;  ///< room for decimal numbers before a part
constexpr std::string_view chemistry = "oxidation numbers of the formula";
constexpr std::string_view division_5_1 = "UN Model Regulations, Division 5.1 (from memory)";

/// The oxidation numbers in which an element occurs in fertilizers. Source: inorganic chemistry,
/// from memory. Beyond the highest stand the peroxides, chlorates, permanganates and chromates.
struct States {
  std::string_view symbol{};
  double lowest = 0;
  double highest = 0;
};

constexpr std::array<States, 46> states{{
    {"H", 1, 1},  {"Li", 1, 1}, {"Na", 1, 1}, {"K", 1, 1},  {"Rb", 1, 1}, {"Cs", 1, 1},
    {"Ag", 1, 1}, {"Be", 2, 2}, {"Mg", 2, 2}, {"Ca", 2, 2}, {"Sr", 2, 2}, {"Ba", 2, 2},
    {"Zn", 2, 2}, {"Cd", 2, 2}, {"Hg", 1, 2}, {"Pb", 2, 2}, {"Sn", 2, 4}, {"B", 3, 3},
    {"Al", 3, 3}, {"La", 3, 3}, {"Y", 3, 3},  {"Si", 4, 4}, {"Ti", 4, 4}, {"Zr", 4, 4},
    {"P", 5, 5},  {"As", 3, 5}, {"Sb", 3, 5}, {"Bi", 3, 3}, {"S", 6, 6},  {"Se", 4, 6},
    {"Te", 4, 6}, {"Mo", 6, 6}, {"W", 6, 6},  {"V", 3, 5},  {"Nb", 5, 5}, {"U", 4, 6},
    {"Cu", 1, 2}, {"Fe", 2, 3}, {"Mn", 2, 4}, {"Co", 2, 3}, {"Ni", 2, 2}, {"Cr", 2, 3},
    {"Ce", 3, 4}, {"Ga", 3, 3}, {"In", 3, 3}, {"Tl", 1, 3},
}};
constexpr States unlisted{"", 1, 4};
constexpr std::array<std::string_view, 4> halogens{"F", "Cl", "Br", "I"};
constexpr std::array<std::string_view, 5> alkali_metals{"Li", "Na", "K", "Rb", "Cs"};
constexpr std::array<std::string_view, 4> earth_metals{"Mg", "Ca", "Sr", "Ba"};
constexpr std::array<std::string_view, 11> non_metals{"H", "C",  "N",  "O",  "F", "P",
                                                      "S", "Cl", "Se", "Br", "I"};
/// Elements that harm above a narrow rate, or whatever the rate.
constexpr std::array<std::string_view, 14> toxic_elements{"B",  "Cu", "Mo", "Se", "Co", "Ni", "As",
                                                          "Cd", "Pb", "Hg", "Tl", "Cr", "Be", "V"};

template <std::size_t Size>
bool is_among(const std::array<std::string_view, Size>& list, std::string_view symbol) {
  return std::find(list.begin(), list.end(), symbol) != list.end();
}

const States& states_of(std::string_view symbol) {
  const auto* const found = std::find_if(states.begin(), states.end(),
                                         [&](const States& s) { return s.symbol == symbol; });
  return found == states.end() ? unlisted : *found;
}

/// One compound between two dots of a formula, its charges in balance.
class Compound {
 public:
  explicit Compound(Composition composition) : composition_(std::move(composition)) {
    for (const auto& [symbol, moles] : composition_.atoms) {
      if (symbol == "O") {
        taken_ += 2 * moles;
      } else if (is_among(halogens, symbol)) {
        taken_ += moles;
      } else if (symbol != "C" && symbol != "N") {
        given_least_ += moles * states_of(symbol).lowest;
        given_most_ += moles * states_of(symbol).highest;
      }
    }
    constexpr double reduced = -3;
    constexpr double oxidized = 5;
    const double bound = reduced * (composition_.ammonium_nitrogen + composition_.urea_nitrogen) +
                         oxidized * composition_.nitrate_nitrogen;
    given_least_ += bound;
    given_most_ += bound;
  }

  [[nodiscard]] double moles(std::string_view symbol) const {
    const auto found = composition_.atoms.find(symbol);
    return found == composition_.atoms.end() ? 0 : found->second;
  }
  [[nodiscard]] bool has(std::string_view symbol) const { return moles(symbol) > 0; }
  [[nodiscard]] const Composition& composition() const { return composition_; }
  /// Nitrogen whose form no group of the formula shows.
  [[nodiscard]] double open_nitrogen() const {
    return moles("N") - composition_.ammonium_nitrogen - composition_.nitrate_nitrogen -
           composition_.urea_nitrogen;
  }
  [[nodiscard]] double taken() const { return taken_; }
  [[nodiscard]] double given_least() const { return given_least_; }
  [[nodiscard]] double given_most() const { return given_most_; }

  template <class Predicate>
  [[nodiscard]] double sum_of(Predicate counts) const {
    double sum = 0;
    for (const auto& [symbol, count] : composition_.atoms) sum += counts(symbol) ? count : 0;
    return sum;
  }
  [[nodiscard]] double alkali() const {
    return sum_of([](const std::string& s) { return is_among(alkali_metals, s); });
  }
  [[nodiscard]] double earth() const {
    return sum_of([](const std::string& s) { return is_among(earth_metals, s); });
  }
  [[nodiscard]] double halogen() const {
    return sum_of([](const std::string& s) { return is_among(halogens, s); });
  }
  [[nodiscard]] double metal() const {
    return sum_of([](const std::string& s) { return !is_among(non_metals, s); });
  }
  /// True when it holds no element but those.
  template <std::size_t Size>
  [[nodiscard]] bool only(const std::array<std::string_view, Size>& symbols) const {
    return sum_of([&](const std::string& s) { return !is_among(symbols, s); }) == 0;
  }

 private:
  Composition composition_;
  double taken_ = 0;  ///< electrons that oxygen and halogens take
  double given_least_ = 0;
  double given_most_ = 0;  ///< what the others give, without carbon and open nitrogen
};

class FormulaReading {
 public:
  FormulaReading(std::string_view formula, Nature& nature) : formula_(formula), nature_(nature) {}

  void read(const Compound& compound) {
    if (compound.sum_of([](const std::string&) { return true; }) == 0) return;
    read_groups(compound);
    if (is_element_alone(compound)) return;
    read_oxygen(compound);
    if (compound.has("C")) {
      read_carbon(compound);
    } else {
      if (compound.open_nitrogen() > near_zero) read_open_nitrogen(compound);
      read_sulfur_and_phosphorus(compound);
      read_acid(compound);
    }
    read_alkaline(compound);
    read_toxic(compound);
  }

  void add(HazardClass kind, std::string reason, std::string_view source = chemistry,
           std::string detail = {}) {
    nature_.hazards.push_back({kind, Evidence::formula,
                               "its formula " + formula_ + " " + std::move(reason),
                               std::string(source), std::move(detail)});
  }

 private:
  void read_groups(const Compound& compound) {
    const Composition& groups = compound.composition();
    if (groups.nitrate_nitrogen > 0) add(HazardClass::oxidizer, "holds nitrate", division_5_1);
    if (groups.ammonium_nitrogen > 0) add(HazardClass::ammonium, "holds ammonium");
    if (groups.urea_nitrogen > 0) add(HazardClass::urea, "holds urea");
    if (compound.has("Cu")) add(HazardClass::copper, "holds copper");
  }

  /// Metals, carbon, sulfur, phosphorus, alloys and hydrides; and what is never a solid.
  bool is_element_alone(const Compound& compound) {
    if (compound.taken() == 0 && !compound.has("N")) {
      const bool bound = compound.has("S") || compound.has("P") || compound.has("C");
      if (bound && compound.composition().atoms.size() > 1) return false;
      add(HazardClass::fuel, "is that of an element or alloy that burns");
      read_toxic(compound);
      return true;
    }
    if (compound.composition().atoms.size() == 1 && !compound.has("N")) {
      add(HazardClass::refused, "is that of an element that feeds a fire", division_5_1);
      return true;
    }
    return false;
  }

  /// Oxygen and halogens that take more than the other elements can give.
  void read_oxygen(const Compound& compound) {
    constexpr double most_of_carbon = 4;
    constexpr double most_of_nitrogen = 5;
    constexpr double reduced = -3;
    const double nitrogen =
        compound.open_nitrogen() * (compound.has("C") ? reduced : most_of_nitrogen);
    const double most = compound.given_most() + nitrogen + most_of_carbon * compound.moles("C");
    if (compound.taken() <= most + near_zero) return;
    if (compound.has("C") && compound.has("N")) {
      add(HazardClass::refused, "holds fuel and the oxygen for it, as explosives do");
    } else {
      add(HazardClass::refused,
          "holds more oxygen than a salt or oxide does: a peroxide, chlorate, permanganate, "
          "chromate or their kin",
          division_5_1);
    }
  }

  void read_carbon(const Compound& compound) {
    constexpr double bound_in_carbonate = 4;
    constexpr double reduced = -3;
    const double carbon = compound.moles("C");
    const double nitrogen = compound.open_nitrogen();
    if (!compound.has("O") && !compound.has("H") && !compound.has("S")) {
      read_without_oxygen(compound);
      return;
    }
    const double state = (compound.taken() - compound.given_least() - reduced * nitrogen) / carbon;
    if (!compound.has("O") || state < bound_in_carbonate - near_zero) {
      add(HazardClass::fuel, "is that of organic matter, which burns",
          "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a)");
      if (compound.composition().nitrate_nitrogen > 0) {
        add(HazardClass::refused, "holds fuel and the oxygen for it, as explosives do");
      }
      return;
    }
    const bool has_cation = compound.metal() > 0;
    if (compound.composition().urea_nitrogen > 0 && compound.composition().nitrate_nitrogen > 0 &&
        !has_cation) {
      add(HazardClass::refused, "holds fuel and the oxygen for it, as explosives do");
    }
    if (nitrogen <= near_zero) return;
    constexpr double urea_hydrogen = 2;
    if (compound.moles("H") > (urea_hydrogen + 0.5) * nitrogen) {
      add(HazardClass::ammonium, "holds ammonium");
    } else {
      add(HazardClass::urea, "is that of urea or its kin");
    }
  }

  /// Cyanides, cyanamides, carbides and what holds carbon and halogens only.
  void read_without_oxygen(const Compound& compound) {
    const double nitrogen = compound.moles("N") / compound.moles("C");
    constexpr double cyanamide_nitrogen = 1.5;
    if (nitrogen >= cyanamide_nitrogen) {
      add(HazardClass::fuel, "is that of a cyanamide, which burns");
      add(HazardClass::alkaline, "is that of a cyanamide, which is alkaline");
    } else if (nitrogen > 0) {
      add(HazardClass::refused, "is that of a cyanide, which gives off poison");
    } else if (compound.alkali() + compound.earth() + compound.moles("Al") > 0) {
      add(HazardClass::refused, "is that of a carbide, which gives off explosive gas");
    } else {
      add(HazardClass::fuel, "holds carbon, which burns");
    }
  }

  /// Nitrogen that no group shows: the balance says how much of it oxygen holds.
  void read_open_nitrogen(const Compound& compound) {
    const double open = compound.open_nitrogen();
    const double low = (compound.taken() - compound.given_most()) / open;
    const double high = (compound.taken() - compound.given_least()) / open;
    constexpr double reduced = -3;
    if (low < reduced + near_zero) {
      if (compound.has("H")) add(HazardClass::ammonium, "holds ammonium");
      read_ammonia(compound);
      return;
    }
    if (!compound.has("O")) {
      add(HazardClass::refused,
          "holds nitrogen that is neither ammonium nor nitrate: an azide or its kin");
      return;
    }
    if (!is_nitrate(compound, low) && !is_nitrate(compound, high)) {
      add(HazardClass::refused,
          "holds nitrogen that is neither ammonium nor nitrate: a nitrite or its kin",
          division_5_1);
      return;
    }
    add(HazardClass::oxidizer, "holds nitrogen bound to oxygen, as nitrates do", division_5_1);
    constexpr double nitrate = 5;
    if (low < nitrate - near_zero && compound.has("H"))
      add(HazardClass::ammonium, "holds ammonium");
  }

  /// Whether a mean oxidation number can be that of nitrate with what hydrogen makes ammonium.
  [[nodiscard]] static bool is_nitrate(const Compound& compound, double state) {
    constexpr double apart = 8;  // from ammonium, -3, to nitrate, +5
    constexpr double nitrate = 5;
    constexpr double hydrogen_of_ammonium = 4;
    const double ammonium = (nitrate - state) / apart * compound.open_nitrogen();
    const double hydrogen =
        compound.moles("H") - hydrogen_of_ammonium * compound.composition().ammonium_nitrogen;
    return ammonium > -near_zero && hydrogen_of_ammonium * ammonium <= hydrogen + near_zero;
  }

  void read_ammonia(const Compound& compound) {
    constexpr std::array<std::string_view, 2> alone{"N", "H"};
    if (compound.only(alone)) add(HazardClass::alkaline, "is that of ammonia");
  }

  void read_sulfur_and_phosphorus(const Compound& compound) {
    constexpr double highest_sulfur = 6;
    constexpr double highest_phosphorus = 5;
    constexpr double reduced = -3;
    const double taken = compound.taken() - reduced * compound.open_nitrogen();
    if (compound.has("N") && compound.open_nitrogen() > near_zero &&
        nature_.has(HazardClass::oxidizer)) {
      return;  // what nitrogen holds cannot be told from what sulfur holds
    }
    if (compound.has("S")) {
      const double sulfur = compound.moles("S");
      const double state = (taken - compound.given_least() + highest_sulfur * sulfur) / sulfur;
      if (state < highest_sulfur - 0.5) {
        add(HazardClass::reducer, "is that of a sulfide, sulfite, thiosulfate or their kin");
      }
    }
    if (compound.has("P")) {
      const double phosphorus = compound.moles("P");
      const double state =
          (taken - compound.given_least() + highest_phosphorus * phosphorus) / phosphorus;
      if (!compound.has("O")) {
        add(HazardClass::refused, "is that of a phosphide, which gives off poison");
      } else if (state < highest_phosphorus - 0.5) {
        add(HazardClass::reducer, "is that of a phosphite or its kin");
      }
    }
  }

  void read_acid(const Compound& compound) {
    constexpr std::array<std::string_view, 5> of_acid{"H", "S", "P", "N", "O"};
    const double hydrogen = compound.moles("H") - 4 * compound.composition().ammonium_nitrogen;
    if (hydrogen <= 0) return;
    const bool free = compound.only(of_acid) && compound.composition().ammonium_nitrogen == 0 &&
                      compound.open_nitrogen() <= near_zero &&
                      (compound.has("S") || compound.has("P") || compound.has("N")) &&
                      compound.has("O");
    constexpr std::array<std::string_view, 5> of_halide{"H", "F", "Cl", "Br", "I"};
    if (free || compound.only(of_halide)) {
      add(HazardClass::acid, "is that of a strong acid");
      return;
    }
    if (!compound.has("S") || compound.has("P") || compound.open_nitrogen() > near_zero) return;
    double cations = compound.composition().ammonium_nitrogen;
    for (const auto& [symbol, count] : compound.composition().atoms) {
      if (!is_among(non_metals, symbol)) cations += count * states_of(symbol).highest;
    }
    if (cations < 2 * compound.moles("S") - 0.1) {
      add(HazardClass::acid, "is that of an acid salt of sulfuric acid");
    }
  }

  void read_alkaline(const Compound& compound) {
    const double bases = compound.alkali() + compound.earth();
    constexpr std::array<std::string_view, 7> acid_formers{"C", "N", "S", "Se", "P", "B", "Al"};
    const bool neutralized = compound.halogen() > 0 || compound.sum_of([&](const std::string& s) {
      return is_among(acid_formers, s) ||
             (!is_among(non_metals, s) && s != "Si" && !is_among(alkali_metals, s) &&
              !is_among(earth_metals, s));
    }) > 0;
    if (bases > 0 && compound.has("O") && !neutralized) {
      add(HazardClass::alkaline,
          compound.has("Si") ? "is that of an alkaline silicate" : "is that of a strong base");
      return;
    }
    const double alkali = compound.alkali();
    const bool carbonate = compound.has("C") && !compound.has("N") && compound.earth() == 0 &&
                           alkali > compound.moles("C") + near_zero &&
                           !nature_.has(HazardClass::fuel);
    const bool phosphate =
        compound.has("P") && compound.has("O") && alkali > 2.5 * compound.moles("P");
    if (carbonate || phosphate) {
      add(HazardClass::alkaline, "is that of a strongly alkaline salt");
    }
    constexpr std::array<std::string_view, 3> of_ammonia_water{"N", "H", "O"};
    if (compound.only(of_ammonia_water) && compound.composition().ammonium_nitrogen > 0 &&
        compound.composition().nitrate_nitrogen == 0 && compound.open_nitrogen() <= near_zero) {
      add(HazardClass::alkaline, "is that of ammonia in water");
    }
  }

  void read_toxic(const Compound& compound) {
    for (const auto symbol : toxic_elements) {
      if (compound.has(symbol)) {
        add(HazardClass::toxic_element, "holds " + std::string(symbol),
            "toxicity of the element (from memory)", std::string(symbol));
      }
    }
  }

  std::string formula_;
  Nature& nature_;
};

bool is_water(const Composition& composition) {
  const auto hydrogen = composition.atoms.find("H");
  const auto oxygen = composition.atoms.find("O");
  return composition.atoms.size() == 2 && hydrogen != composition.atoms.end() &&
         oxygen != composition.atoms.end() &&
         std::abs(hydrogen->second - 2 * oxygen->second) < 1e-9;
}

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

std::optional<std::vector<FormulaPart>> parts_of(std::string_view formula) {
  try {
    return parse_formula(formula);
  } catch (const FormulaError&) {
    return std::nullopt;  // the reader of the material says so
  }
}

}  // namespace

std::string family_of_formula(std::string_view formula) {
  const auto parts = parts_of(formula);
  if (!parts) return {};
  const Composition whole = composition_of(formula);
  for (const auto& row : formula_rows()) {
    if (is_same_compound(whole, row.composition)) return row.family;
  }
  return {};
}

void add_formula_hazards(std::string_view formula, Nature& nature) {
  const auto parts = parts_of(formula);
  if (!parts) return;
  nature.known = true;
  FormulaReading reading(formula, nature);
  for (const auto& part : *parts) {
    Composition composition = composition_of_units(part);
    if (is_water(composition)) {
      if (parts->size() > 1) reading.add(HazardClass::hydrated_salt, "holds crystal water");
      continue;
    }
    reading.read(Compound(std::move(composition)));
  }
  // Urea and nitric acid in two parts are one explosive.
  const Composition whole = composition_of(formula);
  if (parts->size() > 1 && whole.urea_nitrogen > 0 && whole.nitrate_nitrogen > 0 &&
      Compound(whole).metal() == 0) {
    reading.add(HazardClass::refused, "holds fuel and the oxygen for it, as explosives do");
  }
}

}  // namespace leastwise
