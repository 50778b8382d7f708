#include "base/embedded.hpp"

#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/micronutrient.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "chemistry/materials/solubility.hpp"
#include "chemistry/nutrients/data_table.hpp"

using namespace leastwise;

namespace {

using Files = std::map<std::string, std::string_view, std::less<>>;

const Files& embedded_tables() {
  static const Files files = {
      {"acidity.csv", embedded::acidity_csv()},
      {"atomic_weights.csv", embedded::atomic_weights_csv()},
      {"binders.csv", embedded::binders_csv()},
      {"compatibility.csv", embedded::compatibility_csv()},
      {"conversion_factors.csv", embedded::conversion_factors_csv()},
      {"critical_relative_humidity_pairs.csv", embedded::critical_relative_humidity_pairs_csv()},
      {"critical_relative_humidity_pure.csv", embedded::critical_relative_humidity_pure_csv()},
      {"declaration_minima.csv", embedded::declaration_minima_csv()},
      {"families.csv", embedded::families_csv()},
      {"hazards.csv", embedded::hazards_csv()},
      {"label_tolerances.csv", embedded::label_tolerances_csv()},
      {"materials.csv", embedded::materials_csv()},
      {"micronutrient_rates.csv", embedded::micronutrient_rates_csv()},
      {"micronutrients.csv", embedded::micronutrients_csv()},
      {"salt_index.csv", embedded::salt_index_csv()},
      {"solubilities.csv", embedded::solubilities_csv()},
      {"synonyms.csv", embedded::synonyms_csv()},
      {"toxic_elements.csv", embedded::toxic_elements_csv()},
  };
  return files;
}

Table table_of(std::string_view name) { return Table(name, embedded_tables().find(name)->second); }

/// The column holds a number between `least` and `most`, or nothing where `optional`.
void check_range(const Table& table, std::string_view column, double least, double most,
                 bool optional = false) {
  for (std::size_t row = 0; row < table.size(); ++row) {
    CAPTURE(row);
    CAPTURE(column);
    const auto value = table.optional_number(row, column);
    if (!value) {
      CHECK(optional);
      continue;
    }
    CHECK(*value >= least);
    CHECK(*value <= most);
  }
}

void check_unique(const Table& table, std::string_view column) {
  std::set<std::string> seen;
  for (std::size_t row = 0; row < table.size(); ++row) {
    CAPTURE(table.text(row, column));
    CHECK_FALSE(table.text(row, column).empty());
    CHECK(seen.insert(table.text(row, column)).second);
  }
}

}  // namespace

TEST_SUITE("embedded tables") {
  TEST_CASE("the library carries every table of lib/data byte for byte") {
    std::set<std::string> on_disk;
    for (const auto& entry :
         std::filesystem::directory_iterator(LEASTWISE_SOURCE_DIR "/lib/data")) {
      const std::string name = entry.path().filename().string();
      if (entry.path().extension() != ".csv") continue;
      on_disk.insert(name);
      CAPTURE(name);
      REQUIRE(embedded_tables().contains(name));
      std::ifstream file(entry.path(), std::ios::binary);
      const std::string bytes(std::istreambuf_iterator<char>(file), {});
      CHECK(bytes == embedded_tables().find(name)->second);
    }
    CHECK(on_disk.size() == embedded_tables().size());
  }

  TEST_CASE("every row of every table has a source and says whether it was seen") {
    for (const auto& file : embedded_tables()) {
      CAPTURE(file.first);
      const Table table(file.first, file.second);
      CHECK(table.size() > 0);
      for (std::size_t row = 0; row < table.size(); ++row) CHECK_FALSE(table.source(row).empty());
    }
  }

  TEST_CASE("atomic weights rise with the atomic number but for the four known exceptions") {
    const Table table = table_of("atomic_weights.csv");
    check_unique(table, "symbol");
    std::vector<std::string> exceptions;
    for (std::size_t row = 1; row < table.size(); ++row) {
      CHECK(table.number(row, "atomic_number") > table.number(row - 1, "atomic_number"));
      if (table.number(row, "atomic_weight") < table.number(row - 1, "atomic_weight")) {
        exceptions.push_back(table.text(row, "symbol"));
      }
      const std::string& kind = table.text(row, "kind");
      CHECK((kind == "standard" || kind == "conventional"));
    }
    // Argon and potassium, cobalt and nickel, tellurium and iodine: isotopes turn the order round.
    CHECK(exceptions == std::vector<std::string>{"K", "Ni", "I"});
    CHECK(table.size() == 81);  // hydrogen to bismuth without technetium and promethium
  }

  TEST_CASE("salt indices are positive and unique by substance") {
    const Table table = table_of("salt_index.csv");
    check_unique(table, "substance");
    check_range(table, "salt_index", 1, 200);
    check_range(table, "salt_index_per_unit_nutrient", 0.1, 10, true);
    check_range(table, "salt_index_1943", 1, 200, true);
  }

  TEST_CASE("acidity is negative where a substance makes the soil acid") {
    const Table table = table_of("acidity.csv");
    check_unique(table, "substance");
    check_range(table, "kg_caco3_per_100_kg", -350, 300, true);
    check_range(table, "kg_caco3_per_100_kg_1933", -350, 300, true);
    check_range(table, "acid_kg_caco3_per_kg_n", -5, 10, true);
    for (std::size_t row = 0; row < table.size(); ++row) {
      const auto per_mass = table.optional_number(row, "kg_caco3_per_100_kg");
      const auto per_nitrogen = table.optional_number(row, "acid_kg_caco3_per_kg_n");
      if (per_mass && per_nitrogen) CHECK(*per_mass * *per_nitrogen < 0);
    }
  }

  TEST_CASE("a pair of salts draws water sooner than either alone, but for four known pairs") {
    const Table pure = table_of("critical_relative_humidity_pure.csv");
    check_unique(pure, "substance");
    check_range(pure, "humidity_percent", 10, 100);
    std::map<std::string, double> alone;
    for (std::size_t row = 0; row < pure.size(); ++row) {
      alone.emplace(pure.text(row, "substance"), pure.number(row, "humidity_percent"));
    }
    const Table pairs = table_of("critical_relative_humidity_pairs.csv");
    std::set<std::pair<std::string, std::string>> seen;
    for (std::size_t row = 0; row < pairs.size(); ++row) {
      const std::string& a = pairs.text(row, "substance_a");
      const std::string& b = pairs.text(row, "substance_b");
      CAPTURE(a);
      CAPTURE(b);
      CHECK(a < b);
      CHECK(seen.insert({a, b}).second);
      const double humidity = pairs.number(row, "humidity_percent");
      // In the classical table four salts make ammonium nitrate (59.4 percent) less hygroscopic.
      const bool drier_together = humidity >= std::min(alone.at(a), alone.at(b));
      const bool known_exception =
          a == "ammonium-nitrate" && (b == "ammonium-sulfate" || b == "potassium-chloride" ||
                                      b == "potassium-nitrate" || b == "potassium-sulfate");
      CHECK(drier_together == known_exception);
    }
  }

  TEST_CASE("label tolerances name known nutrients and allow something") {
    const Table table = table_of("label_tolerances.csv");
    for (const char* column : {"declared_from_percent", "declared_to_percent"}) {
      check_range(table, column, 0, 100, true);
    }
    for (const char* column :
         {"lower_share_of_declared_percent", "upper_share_of_declared_percent"}) {
      check_range(table, column, 0.1, 100, true);
    }
    for (const char* column :
         {"lower_points", "lower_cap_points", "upper_points", "upper_cap_points"}) {
      check_range(table, column, 0.0001, 5, true);
    }
    for (std::size_t row = 0; row < table.size(); ++row) {
      CAPTURE(row);
      CHECK((table.optional_number(row, "lower_share_of_declared_percent") ||
             table.optional_number(row, "lower_points")));
      std::string_view rest = table.text(row, "nutrients");
      CHECK_FALSE(rest.empty());
      while (!rest.empty()) {
        const std::size_t end = rest.find(' ');
        const std::string_view name = rest.substr(0, end);
        CAPTURE(name);
        CHECK(element_of(name).has_value());
        rest = end == std::string_view::npos ? "" : rest.substr(end + 1);
      }
    }
  }

  TEST_CASE("solubilities are of powders and crystals of the catalogue, by their formulas") {
    const Table table = table_of("solubilities.csv");
    check_unique(table, "material");
    check_range(table, "g_per_l", 10, 2000);
    for (std::size_t row = 0; row < table.size(); ++row) {
      const Material* const material = find_built_in_material(table.text(row, "material"));
      CAPTURE(table.text(row, "material"));
      REQUIRE(material != nullptr);
      CHECK(material->form != Form::granule);
      CHECK(material->formula == table.text(row, "formula"));
      CHECK(content_percent(*material, "Se") == 0);
      CHECK(solubility_g_per_l(*material) == table.number(row, "g_per_l"));
    }
  }

  TEST_CASE("usual rates rise from coatings over granules to the soil, far below the ceiling") {
    const Table elements = table_of("micronutrients.csv");
    check_unique(elements, "element");
    CHECK(elements.size() == 9);
    CHECK(table_of("micronutrient_rates.csv").size() == 27);
    for (const auto& micronutrient : micronutrients()) {
      CAPTURE(micronutrient.element);
      CHECK(is_micronutrient(micronutrient.element));
      CHECK(micronutrient.granular_factor >= 1);
      CHECK(micronutrient.carried_from_percent > 0);
      double before = 0;
      for (const auto placement : {Placement::coated, Placement::granular, Placement::soil}) {
        const UsualRate& usual = micronutrient.usual(placement);
        CHECK(usual.from > 0);
        CHECK(usual.to > usual.from);
        CHECK(usual.to >= before);
        before = usual.to;
      }
      CHECK(micronutrient.ceiling_kg_per_ha >= 2 * before);
    }
    CHECK(find_micronutrient("N") == nullptr);
    CHECK(find_micronutrient("B")->name == "boron");
  }
}
