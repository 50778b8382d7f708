#include "exact/exact_contents.hpp"

#include <doctest/doctest.h>
#include <leastwise/catalogue.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>

#include "exact/decimal.hpp"

using namespace leastwise;
using exact::decimal;
using exact::Rational;

namespace {

Scenario using_built_ins() {
  ScenarioDraft draft;
  draft.use.emplace();
  for (const auto& material : built_in_materials()) {
    draft.use->push_back(material.name);
    draft.prices.push_back({material.name, 100});
  }
  draft.grade_percent.push_back({"Cl", {.max = 5}});
  BinderDraft binder;
  binder.material = "silicate-solution";
  binder.organic = false;
  draft.binder = binder;
  return Scenario(draft);
}

}  // namespace

TEST_SUITE("exact contents") {
  TEST_CASE("zinc oxide holds zinc in the proportion of the atomic weights") {
    const auto contents = exact::contents_of_formula("ZnO", 97);
    REQUIRE(contents.size() == 1);
    const Rational zinc = decimal(*atomic_weight("Zn"));
    const Rational oxygen = decimal(*atomic_weight("O"));
    CHECK(contents[0].percent == zinc / (zinc + oxygen) * 97);
  }

  TEST_CASE("half a water is half a water, not its nearest double") {
    const auto contents = exact::contents_of_formula("CaSO4.0.1H2O", 100);
    Rational mass = 0;
    for (const auto& [symbol, count] : {std::pair{"Ca", Rational(1)},
                                        {"S", Rational(1)},
                                        {"O", Rational(41, 10)},
                                        {"H", Rational(2, 10)}})
      mass += decimal(*atomic_weight(symbol)) * count;
    const auto calcium = std::ranges::find(contents, "Ca", &exact::Content::name);
    REQUIRE(calcium != contents.end());
    CHECK(calcium->percent == decimal(*atomic_weight("Ca")) / mass * 100);
  }

  TEST_CASE("there and back between oxide and element is exactly one") {
    for (const char* oxide : {"P2O5", "K2O", "SO3", "CaO", "MgO", "Na2O", "SiO2"}) {
      const auto element = *element_of(oxide);
      CHECK(exact::conversion(oxide, element) * exact::conversion(element, oxide) == 1);
      CHECK(exact::conversion(oxide, element).convert_to<double>() ==
            doctest::Approx(*conversion_factor(oxide, element)).epsilon(1e-15));
    }
    CHECK(exact::conversion("P2O5", "K") == 0);
    CHECK(exact::conversion("moisture", "N") == 0);
  }

  TEST_CASE("every built-in material holds exactly what its rounded contents say, to 15 digits") {
    const auto scenario = using_built_ins();
    for (std::size_t i = 0; i < scenario.materials().size(); ++i) {
      const Material& material = scenario.materials()[i];
      CAPTURE(material.name);
      const auto exact_contents = exact::contents_of(scenario, i);
      for (const auto name : known_names())
        CHECK(exact::percent_of(exact_contents, name).convert_to<double>() ==
              doctest::Approx(content_percent(material, name)).epsilon(1e-14));
    }
  }
}
