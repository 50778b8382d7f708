#include "chemistry/hazard/formula_hazards.hpp"

#include <leastwise/formula.hpp>
#include <leastwise/toxic_element.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "chemistry/hazard/acidity.hpp"
#include "chemistry/hazard/compound.hpp"
#include "chemistry/nutrients/formula_parts.hpp"

namespace leastwise {
namespace {

constexpr std::string_view chemistry = "oxidation numbers of the formula";
constexpr std::string_view division_5_1 = "UN Model Regulations, Division 5.1 (from memory)";
constexpr std::string_view class_1 = "UN Model Regulations, Class 1 (from memory)";
constexpr std::string_view explosive = "holds fuel and the oxygen for it, as explosives do";

class FormulaReading {
 public:
  FormulaReading(std::string_view formula, Nature& nature) : formula_(formula), nature_(nature) {}

  void read(const Compound& compound) {
    if (compound.composition().atoms.empty()) return;
    read_groups(compound);
    if (is_element_alone(compound)) return;
    read_oxygen(compound);
    if (compound.has("C")) {
      read_carbon(compound);
    } else {
      if (compound.open_nitrogen() > near_zero) read_open_nitrogen(compound);
      read_sulfur_and_phosphorus(compound);
    }
    read_acidity(compound);
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
    const double nitrogen =
        compound.open_nitrogen() * (compound.has("C") ? reduced_nitrogen : oxidized_nitrogen);
    const double most = compound.given_most() + nitrogen + most_of_carbon * compound.moles("C");
    if (compound.taken() <= most + near_zero) return;
    if (compound.has("C") && compound.has("N")) {
      add(HazardClass::refused, std::string(explosive), class_1);
    } else {
      add(HazardClass::refused,
          "holds more oxygen than a salt or oxide does: a peroxide, chlorate, permanganate, "
          "chromate or their kin",
          division_5_1);
    }
  }

  void read_carbon(const Compound& compound) {
    constexpr double bound_in_carbonate = 4;
    if (!compound.has("O") && !compound.has("H") && !compound.has("S")) {
      read_without_oxygen(compound);
      return;
    }
    const double state =
        (compound.taken() - compound.given_least() - reduced_nitrogen * compound.open_nitrogen()) /
        compound.moles("C");
    const bool nitrate = compound.composition().nitrate_nitrogen > 0;
    if (!compound.has("O") || state < bound_in_carbonate - near_zero) {
      add(HazardClass::fuel, "is that of organic matter, which burns",
          "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a)");
      if (nitrate || is_explosive(compound)) {
        add(HazardClass::refused, std::string(explosive), class_1);
      }
      return;
    }
    if (compound.composition().urea_nitrogen > 0 && nitrate && compound.metal() == 0) {
      add(HazardClass::refused, std::string(explosive), class_1);
    }
    read_nitrogen_of_carbonate(compound);
  }

  /// Nitro compounds, esters of nitric acid and their kin carry most of the oxygen they burn with.
  /// Urea, amino acids and chelates carry less; the line lies between them.
  [[nodiscard]] static bool is_explosive(const Compound& compound) {
    constexpr std::array<std::string_view, 4> of_explosives{"C", "H", "N", "O"};
    constexpr double least_balance_percent = -78;
    return compound.open_nitrogen() > near_zero && compound.only(of_explosives) &&
           compound.oxygen_balance_percent() > least_balance_percent;
  }

  /// Beside carbon of carbonate, nitrogen is that of ammonium or of urea and its kin.
  void read_nitrogen_of_carbonate(const Compound& compound) {
    const double nitrogen = compound.open_nitrogen();
    if (nitrogen <= near_zero) return;
    constexpr double of_urea = 2;      // hydrogen for each nitrogen
    constexpr double of_ammonium = 4;  // the same
    const double hydrogen = compound.moles("H") / nitrogen;
    if (hydrogen > of_urea + 0.5) add(HazardClass::ammonium, "holds ammonium");
    const bool can_be_urea = nitrogen >= 2 * compound.moles("C") - near_zero;
    if (hydrogen <= of_urea + 0.5 || (can_be_urea && hydrogen < of_ammonium - near_zero)) {
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
    if (low < reduced_nitrogen + near_zero) {
      if (compound.has("H")) add(HazardClass::ammonium, "holds ammonium");
      read_ammonia(compound);
      return;
    }
    if (!compound.has("O")) {
      add(HazardClass::refused,
          "holds nitrogen that is neither ammonium nor nitrate: an azide or its kin");
      return;
    }
    if (!is_nitrate(compound, low, high)) {
      add(HazardClass::refused,
          "holds nitrogen that is neither ammonium nor nitrate, or oxygen beyond both: a nitrite, "
          "a peroxide or their kin",
          division_5_1);
      return;
    }
    add(HazardClass::oxidizer, "holds nitrogen bound to oxygen, as nitrates do", division_5_1);
    if (low < oxidized_nitrogen - near_zero && compound.has("H")) {
      add(HazardClass::ammonium, "holds ammonium");
    }
  }

  /// Whether a mean oxidation number between `low` and `high` can be that of nitrate with a whole
  /// number of ammonium, for which there is hydrogen.
  [[nodiscard]] static bool is_nitrate(const Compound& compound, double low, double high) {
    constexpr double apart = oxidized_nitrogen - reduced_nitrogen;
    constexpr double hydrogen_of_ammonium = 4;
    const double open = compound.open_nitrogen();
    const double fewest = (oxidized_nitrogen - high) / apart * open;
    const double most = (oxidized_nitrogen - low) / apart * open;
    const double ammonium = std::max(0.0, std::ceil(fewest - near_zero));
    const double hydrogen =
        compound.moles("H") - hydrogen_of_ammonium * compound.composition().ammonium_nitrogen;
    return ammonium <= most + near_zero && ammonium < open &&
           hydrogen_of_ammonium * ammonium <= hydrogen + near_zero;
  }

  void read_ammonia(const Compound& compound) {
    constexpr std::array<std::string_view, 2> alone{"N", "H"};
    if (compound.only(alone)) add(HazardClass::alkaline, "is that of ammonia");
  }

  void read_sulfur_and_phosphorus(const Compound& compound) {
    constexpr double highest_sulfur = 6;
    constexpr double highest_phosphorus = 5;
    const double taken = compound.taken() - reduced_nitrogen * compound.open_nitrogen();
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

  void read_acidity(const Compound& compound) {
    if (const auto acid = acid_in(compound); !acid.empty())
      add(HazardClass::acid, std::string(acid));
    const bool burns = nature_.has(HazardClass::fuel);
    if (const auto alkali = base_in(compound); !alkali.empty() && !(burns && compound.has("C"))) {
      add(HazardClass::alkaline, std::string(alkali));
    }
  }

  void read_toxic(const Compound& compound) {
    for (const auto& element : toxic_elements()) {
      if (!compound.has(element.symbol)) continue;
      const std::string symbol(element.symbol);
      add(HazardClass::toxic_element, "holds " + symbol, element.source, symbol);
      if (!element.is_refused) continue;
      add(HazardClass::refused,
          "holds " + symbol + ", of which laws on fertilizers allow traces only", element.source);
    }
  }

  std::string formula_;
  Nature& nature_;
};

std::optional<std::vector<FormulaPart>> parts_of(std::string_view formula) {
  try {
    return parse_formula(formula);
  } catch (const FormulaError&) {
    return std::nullopt;  // the reader of the material says so
  }
}

}  // namespace

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
    reading.add(HazardClass::refused, std::string(explosive), class_1);
  }
}

}  // namespace leastwise
