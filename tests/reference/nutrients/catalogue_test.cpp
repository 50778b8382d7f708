#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <map>
#include <set>
#include <string>
#include <vector>

#include "reference/nutrients/published.hpp"

using namespace leastwise;

namespace {

/// Which built-in materials the published ingredients stand for.
const std::map<std::string, std::vector<std::string>>& materials_of_ingredients() {
  static const std::map<std::string, std::vector<std::string>> materials = {
      {"urea granular", {"urea"}},
      {"ammonium nitrate", {"ammonium-nitrate"}},
      {"ammonium sulfate", {"ammonium-sulfate", "ammonium-sulfate-crystal"}},
      {"calcium ammonium nitrate", {"calcium-ammonium-nitrate"}},
      {"monoammonium phosphate", {"map"}},
      {"diammonium phosphate", {"dap"}},
      {"triple superphosphate", {"tsp"}},
      {"single superphosphate", {"ssp"}},
      {"potassium chloride granular", {"mop", "mop-standard"}},
      {"potassium sulfate", {"sop", "sop-standard"}},
      {"potassium magnesium sulfate", {"potassium-magnesium-sulfate"}},
      {"potassium nitrate", {"potassium-nitrate"}},
      {"calcium nitrate (fertilizer grade)", {"calcium-nitrate"}},
      {"kieserite", {"kieserite"}},
      {"epsom salt", {"epsom-salt"}},
      {"polyhalite granular", {"polyhalite"}},
      {"elemental sulfur pastilles (bentonite)", {"sulfur-bentonite"}},
      {"gypsum", {"gypsum"}},
      {"urea sulfur/polymer coated", {"polymer-coated-urea"}},
      {"limestone filler", {"limestone-filler"}},
      {"dolomite filler", {"dolomite-filler"}},
      {"ulexite", {"boron-granule", "ulexite-powder"}},
      {"borax decahydrate", {"borax"}},
      {"boric acid", {"boric-acid"}},
      {"sodium borate (soluble)", {"sodium-borate"}},
      {"zinc sulfate monohydrate", {"zinc-sulfate-monohydrate"}},
      {"zinc sulfate heptahydrate", {"zinc-sulfate-heptahydrate"}},
      {"zinc oxide", {"zinc-oxide"}},
      {"zinc EDTA", {"zinc-edta"}},
      {"copper sulfate pentahydrate", {"copper-sulfate"}},
      {"copper(II) oxide", {"copper-oxide"}},
      {"copper(I) oxide", {"cuprous-oxide"}},
      {"manganese sulfate", {"manganese-sulfate", "manganese-sulfate-granule"}},
      {"manganous oxide", {"manganese-oxide"}},
      {"iron(II) sulfate heptahydrate", {"iron-sulfate-heptahydrate"}},
      {"iron EDDHA", {"iron-eddha"}},
      {"iron EDTA", {"iron-edta"}},
      {"manganese EDTA", {"manganese-edta"}},
      {"sodium molybdate dihydrate", {"sodium-molybdate"}},
      {"ammonium molybdate", {"ammonium-molybdate"}},
  };
  return materials;
}

/// The pure compound that bounds a built-in material from above.
const std::map<std::string, std::string>& formulas_of_materials() {
  static const std::map<std::string, std::string> formulas = {
      {"urea", "CO(NH2)2"},
      {"urea-prilled", "CO(NH2)2"},
      {"polymer-coated-urea", "CO(NH2)2"},
      {"ammonium-nitrate", "NH4NO3"},
      {"ammonium-sulfate", "(NH4)2SO4"},
      {"ammonium-sulfate-crystal", "(NH4)2SO4"},
      {"ammonium-chloride", "NH4Cl"},
      {"sodium-nitrate", "NaNO3"},
      {"map", "NH4H2PO4"},
      {"map-crystal", "NH4H2PO4"},
      {"dap", "(NH4)2HPO4"},
      {"mkp-crystal", "KH2PO4"},
      {"sop", "K2SO4"},
      {"sop-standard", "K2SO4"},
      {"potassium-nitrate", "KNO3"},
      {"potassium-nitrate-crystal", "KNO3"},
      {"potassium-magnesium-sulfate", "K2SO4.2MgSO4"},
      {"polyhalite", "K2SO4.MgSO4.2CaSO4.2H2O"},
      {"sulfur-bentonite", "S"},
      {"sulfur-powder", "S"},
      {"gypsum", "CaSO4.2H2O"},
      {"gypsum-powder", "CaSO4.2H2O"},
      {"anhydrite", "CaSO4"},
      {"kieserite", "MgSO4.H2O"},
      {"epsom-salt", "MgSO4.7H2O"},
      {"magnesium-oxide-granule", "MgO"},
      {"limestone-filler", "CaCO3"},
      {"limestone-powder", "CaCO3"},
      {"dolomite-filler", "CaMg(CO3)2"},
      {"zinc-sulfate-granule", "ZnSO4.H2O"},
      {"boron-granule", "NaCaB5O6(OH)6.5H2O"},
      {"ulexite-powder", "NaCaB5O6(OH)6.5H2O"},
      {"colemanite-granule", "Ca2B6O11.5H2O"},
      {"borax-granule", "Na2B4O7.5H2O"},
      {"manganese-sulfate-granule", "MnSO4.H2O"},
      {"manganese-sulfate", "MnSO4.H2O"},
      {"manganese-oxide", "MnO"},
      {"iron-granule", "FeSO4.H2O"},
      {"zinc-oxide", "ZnO"},
      {"copper-oxide", "CuO"},
      {"zinc-edta", "Na2ZnC10H12N2O8.2H2O"},
      {"copper-edta", "Na2CuC10H12N2O8.2H2O"},
      {"manganese-edta", "Na2MnC10H12N2O8.2H2O"},
      {"iron-edta", "NaFeC10H12N2O8"},
      {"zinc-sulfate-monohydrate", "ZnSO4.H2O"},
      {"zinc-sulfate-heptahydrate", "ZnSO4.7H2O"},
      {"boric-acid", "H3BO3"},
      {"borax", "Na2B4O7.10H2O"},
      {"sodium-borate", "Na2B8O13.4H2O"},
      {"cuprous-oxide", "Cu2O"},
      {"copper-sulfate", "CuSO4.5H2O"},
      {"iron-sulfate-heptahydrate", "FeSO4.7H2O"},
      {"sodium-molybdate", "Na2MoO4.2H2O"},
      {"ammonium-molybdate", "(NH4)6Mo7O24.4H2O"},
  };
  return formulas;
}

void check_content(const Material& material, const std::string& nutrient,
                   const std::string& printed) {
  const auto range = published::printed_range(printed);
  if (!range) return;
  CAPTURE(nutrient);
  CAPTURE(printed);
  CHECK(content_percent(material, nutrient) >= range->min);
  CHECK(content_percent(material, nutrient) <= range->max);
}

/// The lesson that prints 14 % S beside 36 % Zn contradicts the formula, which binds both one to
/// one: 36 % Zn come with 17.65 % S. The table says so itself; the pure compound decides.
bool contradicts_its_formula(const Table& table, std::size_t row, const std::string& column) {
  return table.text(row, "ingredient") == "zinc sulfate monohydrate" && column == "S_pct";
}

}  // namespace

// Sources: named row by row in the table (IFA conversion table, university lessons, NOFA soil
// manual and others).
TEST_SUITE("built-in materials against published ingredients") {
  TEST_CASE("every published ingredient has its material") {
    const Table table = published::table("ingredients.csv");
    std::set<std::string> ingredients;
    for (std::size_t row = 0; row < table.size(); ++row) {
      ingredients.insert(table.text(row, "ingredient"));
      CAPTURE(table.text(row, "ingredient"));
      REQUIRE(materials_of_ingredients().contains(table.text(row, "ingredient")));
    }
    CHECK(ingredients.size() == materials_of_ingredients().size());
    for (const auto& [ingredient, names] : materials_of_ingredients()) {
      for (const std::string& name : names) {
        CAPTURE(name);
        CHECK(find_built_in_material(name) != nullptr);
      }
    }
  }

  TEST_CASE("contents lie in the published range, but for rounding of the printed figure") {
    const std::map<std::string, std::string> columns = {
        {"grade_N", "N"},          {"grade_P2O5", "P2O5"},
        {"grade_K2O", "K2O"},      {"S_pct", "S"},
        {"Ca_pct", "Ca"},          {"Mg_pct", "Mg"},
        {"N_urea", "N-urea"},      {"N_ammonium", "N-ammonium"},
        {"N_nitrate", "N-nitrate"}};
    const Table table = published::table("ingredients.csv");
    for (std::size_t row = 0; row < table.size(); ++row) {
      for (const auto& name : materials_of_ingredients().at(table.text(row, "ingredient"))) {
        CAPTURE(name);
        const Material& material = *find_built_in_material(name);
        for (const auto& [column, nutrient] : columns) {
          if (contradicts_its_formula(table, row, column)) continue;
          check_content(material, nutrient, table.text(row, column));
        }
        const std::string& micronutrient = table.text(row, "micro_element");
        if (!micronutrient.empty()) {
          check_content(material, micronutrient, table.text(row, "micro_pct"));
        }
      }
    }
  }

  TEST_CASE("the water-soluble share of phosphate lies in the published range") {
    const Table table = published::table("ingredients.csv");
    int checked = 0;
    for (std::size_t row = 0; row < table.size(); ++row) {
      const std::string& printed = table.text(row, "P2O5_water_soluble_share");
      if (printed.empty() || printed == "0") continue;
      const auto range = published::printed_range(printed.substr(0, printed.find(' ')));
      for (const auto& name : materials_of_ingredients().at(table.text(row, "ingredient"))) {
        CAPTURE(name);
        const Material& material = *find_built_in_material(name);
        const double share =
            content_percent(material, "P2O5-water") / content_percent(material, "P2O5");
        CHECK(share >= range->min);
        CHECK(share <= range->max);
        ++checked;
      }
    }
    CHECK(checked == 4);
  }

  TEST_CASE("sizes and bulk densities of granules lie in the published range") {
    const Table table = published::table("ingredients.csv");
    for (std::size_t row = 0; row < table.size(); ++row) {
      const auto density = published::printed_range(table.text(row, "bulk_density_kg_m3"));
      const auto size = published::printed_range(table.text(row, "SGN"));
      for (const auto& name : materials_of_ingredients().at(table.text(row, "ingredient"))) {
        CAPTURE(name);
        const Material& material = *find_built_in_material(name);
        if (material.form != Form::granule) continue;
        if (density) {
          CHECK(material.bulk_density_kg_per_m3.value() >= density->min);
          CHECK(material.bulk_density_kg_per_m3.value() <= density->max);
        }
        if (size) {
          CHECK(material.sgn.value() >= size->min);
          CHECK(material.sgn.value() <= size->max);
        }
      }
    }
  }

  TEST_CASE("no material holds more than its pure compound") {
    for (const auto& entry : formulas_of_materials()) {
      CAPTURE(entry.first);
      const Material* const material = find_built_in_material(entry.first);
      REQUIRE(material != nullptr);
      const auto pure = contents_of_formula(entry.second);
      for (const Content& content : material->contains_percent) {
        CAPTURE(content.name);
        const auto element = element_of(content.name);
        if (!element) continue;
        // Chloride comes with sulfate and nitrate potashes as a salt beside them (common practice).
        if (*element == "Cl" && published::percent_of(pure, *element) == 0) continue;
        CHECK(content_percent(*material, *element) <= published::percent_of(pure, *element));
      }
    }
  }

  // A handbook may round up (19 % S for gypsum, which holds 18.6 %), but not by more than that.
  TEST_CASE("no published ingredient holds more than its pure compound, but for rounding") {
    const Table table = published::table("ingredients.csv");
    int checked = 0;
    for (std::size_t row = 0; row < table.size(); ++row) {
      const std::string& ingredient = table.text(row, "ingredient");
      CAPTURE(ingredient);
      const auto formula =
          formulas_of_materials().find(materials_of_ingredients().at(ingredient).front());
      if (formula == formulas_of_materials().end()) continue;
      Material pure;
      pure.contains_percent = contents_of_formula(formula->second);
      std::map<std::string, std::string> printed = {
          {"N", table.text(row, "grade_N")},     {"P2O5", table.text(row, "grade_P2O5")},
          {"K2O", table.text(row, "grade_K2O")}, {"S", table.text(row, "S_pct")},
          {"Ca", table.text(row, "Ca_pct")},     {"Mg", table.text(row, "Mg_pct")}};
      const std::string& micronutrient = table.text(row, "micro_element");
      if (!micronutrient.empty()) printed[micronutrient] = table.text(row, "micro_pct");
      for (const auto& entry : printed) {
        if (entry.second.empty()) continue;
        CAPTURE(entry.first);
        const std::string highest = entry.second.substr(entry.second.find('-') + 1);
        CHECK(published::printed_range(highest)->min <= content_percent(pure, entry.first));
        ++checked;
      }
    }
    CHECK(checked > 60);
  }
}
