#include <doctest/doctest.h>
#include <leastwise/compatibility.hpp>

#include <map>
#include <string>
#include <vector>

#include "reference/nutrients/published.hpp"

using namespace leastwise;

namespace {

using Names = std::vector<std::string>;

/// The families that a name in the published table stands for; empty where it is no family
/// ("most fertilizers", "certain pesticides").
Names families_of(const std::string& published_name) {
  static const std::map<std::string, Names> families = {
      {"superphosphate", {"single-superphosphate", "triple-superphosphate"}},
      {"ammonium phosphate", {"monoammonium-phosphate", "diammonium-phosphate"}},
      {"lime or basic slag", {"lime"}},
      {"lime, basic slag or free-lime carriers", {"lime"}},
      {"lime, basic slag, rock phosphate, calcium cyanamide", {"lime", "rock-phosphate"}},
      {"basic slag", {"lime"}},
      {"calcium carbonate or wood ash", {"limestone"}},
      {"any organic or combustible matter (oil, wax, sulfur, sawdust, powder carriers)",
       {"organic-matter", "elemental-sulfur", "chelates"}},
      {"potassium chloride or other chloride", {"potassium-chloride", "ammonium-chloride"}},
      {"ammonium sulfate or any sulfate",
       {"ammonium-sulfate", "potassium-sulfate", "potassium-magnesium-sulfate", "magnesium-sulfate",
        "zinc-sulfate", "metal-sulfates"}},
      {"ammonium phosphates", {"monoammonium-phosphate", "diammonium-phosphate"}},
      {"magnesium nitrate or sulfate", {"magnesium-sulfate"}},
      {"MAP or DAP", {"monoammonium-phosphate", "diammonium-phosphate"}},
      {"zinc, copper, manganese or iron sulfate powder",
       {"zinc-sulfate", "copper-compounds", "metal-sulfates"}},
      {"DAP (alkaline)", {"diammonium-phosphate"}},
  };
  const auto found = families.find(published_name);
  if (found != families.end()) return found->second;
  const std::string name = published::kebab(published_name);
  return find_family(name) == nullptr ? Names{} : Names{name};
}

/// Where charts disagree and the built-in table decides otherwise, with its reason in the rule.
std::string chosen_level(const std::string& a, const std::string& b, const std::string& level) {
  // The published note: a matter of solutions, a dry blend is usually acceptable.
  if (a == "magnesium-sulfate" && b == "monoammonium-phosphate") return "compatible";
  // The published note: granular limestone filler with superphosphate is limited in practice.
  if (b == "limestone") return "limited";
  // The published note: the same source allows the mixture immediately before application.
  if (b == "calcium-ammonium-nitrate" && a.ends_with("ammonium-phosphate")) return "limited";
  return level;
}

}  // namespace

// Sources: named row by row in the table (IPNI 2013, Regulation (EU) 2019/1009, course notes,
// Fertilizer Manual and TVA bulletins from memory).
TEST_SUITE("compatibility against published charts") {
  TEST_CASE("every published pair of families has its published level, or a stated choice") {
    const Table table = published::table("compatibility_pairs.csv");
    int checked = 0;
    for (std::size_t row = 0; row < table.size(); ++row) {
      for (const std::string& a : families_of(table.text(row, "material_a"))) {
        for (const std::string& b : families_of(table.text(row, "material_b"))) {
          CAPTURE(a);
          CAPTURE(b);
          const CompatibilityRule* const rule = find_compatibility(a, b);
          REQUIRE(rule != nullptr);
          CHECK(to_string(rule->level) == chosen_level(a, b, table.text(row, "class")));
          ++checked;
        }
      }
    }
    CHECK(checked >= 50);
  }

  TEST_CASE("only names that are no family are passed over") {
    const Table table = published::table("compatibility_pairs.csv");
    std::vector<std::string> passed_over;
    for (std::size_t row = 0; row < table.size(); ++row) {
      for (const char* column : {"material_a", "material_b"}) {
        if (families_of(table.text(row, column)).empty()) {
          passed_over.push_back(table.text(row, column));
        }
      }
    }
    CHECK(passed_over == Names{"most fertilizers", "most fertilizers",
                               "material not inert towards AN",
                               "certain pesticides or fluid additives"});
  }

  // Source: critical relative humidity at 30 C. A blend that draws water below 50 % relative
  // humidity gets wet in almost any store.
  TEST_CASE("pairs that draw water below 50 percent humidity are incompatible") {
    const Table table = published::table("humidity_pairs.csv");
    int checked = 0;
    for (std::size_t row = 0; row < table.size(); ++row) {
      if (table.number(row, "crh_percent") >= 50) continue;
      CAPTURE(table.text(row, "salt_a"));
      CAPTURE(table.text(row, "salt_b"));
      const CompatibilityRule* const rule = find_compatibility(
          published::kebab(table.text(row, "salt_a")), published::kebab(table.text(row, "salt_b")));
      REQUIRE(rule != nullptr);
      CHECK(rule->level == Compatibility::incompatible);
      ++checked;
    }
    CHECK(checked == 4);
  }
}
