#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <set>
#include <string>
#include <utility>

using namespace leastwise;

namespace {

Compatibility level_of(std::string_view a, std::string_view b) {
  const CompatibilityRule* const rule = find_compatibility(a, b);
  return rule == nullptr ? Compatibility::compatible : rule->level;
}

}  // namespace

TEST_SUITE("families") {
  TEST_CASE("there are at least 16, sorted, unique and described") {
    const auto families = built_in_families();
    CHECK(families.size() >= 16);
    for (std::size_t i = 0; i < families.size(); ++i) {
      CAPTURE(families[i].name);
      CHECK_FALSE(families[i].description.empty());
      if (i > 0) CHECK(families[i - 1].name < families[i].name);
      CHECK(find_family(families[i].name) == &families[i]);
    }
    CHECK(find_family("granite") == nullptr);
    CHECK(find_family("Urea") == nullptr);
  }

  TEST_CASE("all nitrates are oxidizers, and nothing else is") {
    for (const Family& family : built_in_families()) {
      CAPTURE(family.name);
      CHECK(family.oxidizer == (family.name.find("nitrate") != std::string::npos));
    }
  }
}

TEST_SUITE("compatibility") {
  TEST_CASE("levels are spelled as in scenario files") {
    CHECK(to_string(Compatibility::compatible) == "compatible");
    CHECK(to_string(Compatibility::limited) == "limited");
    CHECK(to_string(Compatibility::incompatible) == "incompatible");
  }

  TEST_CASE("rules name two known families in order, once, with reason and source") {
    const auto rules = built_in_compatibility();
    CHECK(rules.size() >= 60);
    for (std::size_t i = 0; i < rules.size(); ++i) {
      CAPTURE(rules[i].family_a);
      CAPTURE(rules[i].family_b);
      CHECK(rules[i].family_a < rules[i].family_b);
      CHECK(find_family(rules[i].family_a) != nullptr);
      CHECK(find_family(rules[i].family_b) != nullptr);
      CHECK(rules[i].reason.size() > 10);
      CHECK_FALSE(rules[i].source.empty());
      if (i > 0) {
        CHECK(std::pair(rules[i - 1].family_a, rules[i - 1].family_b) <
              std::pair(rules[i].family_a, rules[i].family_b));
      }
    }
  }

  TEST_CASE("a rule is found whichever family is named first") {
    for (const CompatibilityRule& rule : built_in_compatibility()) {
      CHECK(find_compatibility(rule.family_a, rule.family_b) == &rule);
      CHECK(find_compatibility(rule.family_b, rule.family_a) == &rule);
    }
  }

  TEST_CASE("where the table is silent there is no rule") {
    CHECK(find_compatibility("urea", "filler") == nullptr);
    CHECK(find_compatibility("urea", "urea") == nullptr);
    CHECK(find_compatibility("urea", "unheard-of") == nullptr);
    CHECK(find_compatibility("", "") == nullptr);
  }

  TEST_CASE("fuel never meets an oxidizer") {
    for (const Family& family : built_in_families()) {
      if (!family.oxidizer) continue;
      CAPTURE(family.name);
      for (const char* fuel : {"elemental-sulfur", "organic-matter", "chelates", "coated-urea",
                               "ammonium-phosphate-sulfur"}) {
        CAPTURE(fuel);
        CHECK(level_of(family.name, fuel) == Compatibility::incompatible);
      }
    }
  }

  TEST_CASE("whatever holds ammonium nitrate stays away from urea, copper, sulfur and lime") {
    for (const char* nitrate :
         {"ammonium-nitrate", "ammonium-sulfate-nitrate", "calcium-ammonium-nitrate"}) {
      CAPTURE(nitrate);
      for (const char* other : {"urea", "copper-compounds", "copper-oxides", "elemental-sulfur",
                                "lime", "calcium-nitrate"}) {
        CAPTURE(other);
        CHECK(level_of(nitrate, other) == Compatibility::incompatible);
      }
      CHECK(level_of(nitrate, "potassium-chloride") == Compatibility::limited);
      CHECK(level_of(nitrate, "ammonium-chloride") == Compatibility::limited);
    }
  }

  TEST_CASE("copper oxides hold no crystal water that urea could drive out, copper sulfate does") {
    CHECK(level_of("copper-compounds", "urea") == Compatibility::limited);
    CHECK(find_compatibility("copper-oxides", "urea") == nullptr);
    for (const char* oxide : {"copper-oxide", "cuprous-oxide"}) {
      REQUIRE(find_built_in_material(oxide) != nullptr);
      CHECK(find_built_in_material(oxide)->family == "copper-oxides");
    }
  }

  TEST_CASE("free lime is kept from everything that holds ammonium or soluble phosphate") {
    for (const char* family :
         {"ammonium-nitrate", "ammonium-sulfate-nitrate", "calcium-ammonium-nitrate",
          "ammonium-sulfate", "ammonium-chloride", "monoammonium-phosphate", "diammonium-phosphate",
          "single-superphosphate", "triple-superphosphate", "monopotassium-phosphate"}) {
      CAPTURE(family);
      CHECK(level_of("lime", family) == Compatibility::incompatible);
    }
  }

  TEST_CASE("calcium nitrate is kept from sulfates and phosphates") {
    for (const char* family :
         {"ammonium-sulfate", "potassium-sulfate", "potassium-magnesium-sulfate",
          "magnesium-sulfate", "zinc-sulfate", "metal-sulfates", "monoammonium-phosphate",
          "diammonium-phosphate", "monopotassium-phosphate"}) {
      CAPTURE(family);
      CHECK(level_of("calcium-nitrate", family) == Compatibility::incompatible);
    }
  }

  TEST_CASE("a filler goes with everything") {
    for (const CompatibilityRule& rule : built_in_compatibility()) {
      CHECK(rule.family_a != "filler");
      CHECK(rule.family_b != "filler");
    }
  }
}
