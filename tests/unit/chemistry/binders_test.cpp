#include "chemistry/materials/binders.hpp"

#include <doctest/doctest.h>
#include <leastwise/hazard.hpp>

using namespace leastwise;

TEST_SUITE("binders") {
  TEST_CASE("there are at least 14, sorted, each with a density and a source") {
    const auto binders = built_in_binders();
    CHECK(binders.size() >= 14);
    for (std::size_t i = 0; i < binders.size(); ++i) {
      CAPTURE(binders[i].name);
      CHECK(binders[i].nature != BinderNature::unknown);
      CHECK(binders[i].density_kg_per_l >= 0.8);
      CHECK(binders[i].density_kg_per_l <= 1.6);
      CHECK_FALSE(binders[i].source.empty());
      if (i > 0) CHECK(binders[i - 1].name < binders[i].name);
      CHECK(find_binder(binders[i].name) == &binders[i]);
      CHECK(nature_of_binder(binders[i].name) == binders[i].nature);
    }
  }

  TEST_CASE("oils, waxes, sugars and glues are organic") {
    for (const char* name :
         {"canola-oil", "soybean-oil", "sunflower-oil", "linseed-oil", "mineral-oil",
          "paraffin-oil", "wax", "glycerol", "molasses", "lignosulfonate", "starch",
          "polyvinyl-acetate", "polyvinyl-alcohol", "urea-solution"}) {
      CAPTURE(name);
      CHECK(nature_of_binder(name) == BinderNature::organic);
    }
  }

  TEST_CASE("whatever is called an oil or a wax is organic") {
    for (const BinderKind& binder : built_in_binders()) {
      CAPTURE(binder.name);
      if (binder.name.ends_with("oil") || binder.name.ends_with("wax")) {
        CHECK(binder.nature == BinderNature::organic);
      }
    }
  }

  TEST_CASE("water, silicates and brines are inorganic") {
    for (const char* name : {"water", "sodium-silicate", "magnesium-chloride-brine",
                             "ammonium-polyphosphate-solution"}) {
      CAPTURE(name);
      CHECK(nature_of_binder(name) == BinderNature::inorganic);
    }
  }

  TEST_CASE("case, blanks and hyphens of a name do not count; what says nothing is unknown") {
    CHECK(nature_of_binder("Water") == BinderNature::inorganic);
    CHECK(nature_of_binder("Canola_Oil") == BinderNature::organic);
    CHECK(nature_of_binder("canola oil") == BinderNature::organic);
    CHECK(nature_of_binder("diesel fuel") == BinderNature::organic);
    for (const char* name : {"", "secret-sauce"}) {
      CAPTURE(name);
      CHECK(nature_of_binder(name) == BinderNature::unknown);
      CHECK(find_binder(name) == nullptr);
    }
  }
}
