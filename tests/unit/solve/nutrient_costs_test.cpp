#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/report.hpp>

#include <nlohmann/json.hpp>

#include "scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;
using doctest::Approx;

namespace {

/// 30 kg/ha of N and 46 of P2O5 from urea at 460 + 0, 46 % N, and dap at 580 + 20, 18-46.
ScenarioDraft two_nutrients() {
  ScenarioDraft draft;
  draft.currency = "crowns";
  draft.materials = {stated("urea", 460, {{"N", 46}}),
                     stated("dap", 580, {{"N", 18}, {"P2O5", 46}}),
                     stated("meal", 300, {{"N", 10}})};
  draft.materials[1].freight_per_t = 20;
  draft.rates_kg_per_ha = {{"N", at_least(30)}, {"P2O5", at_least(46)}};
  return draft;
}

Blend blend_with_costs(const ScenarioDraft& draft) {
  const Formulation answer = formulate(Scenario(draft));
  REQUIRE(answer.blend());
  return *answer.blend();
}

}  // namespace

TEST_SUITE("cost per nutrient") {
  // Carrier at 400 with 40 % N: 400 / 400 kg = 1.00. In the blend 100 kg of N pay for 87.50 of
  // 137.50, and the tonne itself for 50.
  TEST_CASE("the tonne pays for what no nutrient does") {
    const CostPerNutrient costs = blend_with_costs(carrier_and_filler()).cost_per_nutrient;
    REQUIRE(costs.materials.size() == 1);
    CHECK(costs.materials[0].material == "carrier");
    CHECK(costs.materials[0].price_per_kg == Approx(1.0));
    REQUIRE(costs.blend.size() == 1);
    CHECK(costs.blend[0].kg == Approx(100));
    CHECK(costs.blend[0].price_per_kg == Approx(0.875));
    CHECK(*costs.rest == Approx(50));
  }

  // Urea: 460/460 = 1.00 per kg of N. Dap: 600/180 = 3.333 by N and 600/460 = 1.304 by P2O5. Meal:
  // 3.00. 100 kg of dap (60.00) bring 46 P2O5 and 18 N, 12/0.46 kg of urea the rest (12.00): N is
  // worth 1.00, and P2O5 (600 - 180)/460 = 0.913: 30 x 1.00 + 46 x 0.913 = 72.
  TEST_CASE("a material has one price by each of its nutrients, and the blend's add up") {
    const Blend blend = blend_with_costs(two_nutrients());
    const CostPerNutrient& costs = blend.cost_per_nutrient;
    REQUIRE(costs.materials.size() == 4);
    CHECK(costs.materials[0].material == "urea");
    CHECK(costs.materials[0].price_per_kg == Approx(1.0));
    CHECK(costs.materials[1].material == "meal");
    CHECK_FALSE(costs.materials[1].used);
    CHECK(costs.materials[1].price_per_kg == Approx(3.0));
    CHECK(costs.materials[2].material == "dap");
    CHECK(costs.materials[2].nutrient == "N");
    CHECK(costs.materials[2].price_per_kg == Approx(600.0 / 180));
    CHECK(costs.materials[3].nutrient == "P2O5");
    CHECK(costs.materials[3].price_per_kg == Approx(600.0 / 460));
    REQUIRE(costs.blend.size() == 2);
    CHECK(costs.blend[0].price_per_kg == Approx(1.0));
    CHECK(costs.blend[1].price_per_kg == Approx(420.0 / 460));
    CHECK(costs.blend[0].cost + costs.blend[1].cost == Approx(72));
    CHECK(*blend.cost_per_ha == Approx(72));
    CHECK(*costs.rest == 0);
  }

  TEST_CASE("a maximum and a share that is no nutrient have no price") {
    ScenarioDraft draft = two_nutrients();
    draft.materials[0].contains_percent->push_back({"biuret", 1});
    draft.grade_percent = {{"biuret", at_most(5)}};
    CHECK(blend_with_costs(draft).cost_per_nutrient.materials.size() == 4);
  }

  // A crown per kg is 0.45359237 a pound; 30 kg/ha are 30 x 0.8921791 = 26.765 lb/acre.
  TEST_CASE("US units: per pound, on pages and in JSON") {
    ScenarioDraft draft = two_nutrients();
    draft.units = Units::us;
    const Formulation answer = formulate(Scenario(draft));
    const auto json = nlohmann::json::parse(to_json(answer));
    const auto& us = json["us"]["cost_per_nutrient"];
    CHECK(us["materials"][0]["price_per_lb"].get<double>() == Approx(0.45359237));
    CHECK(us["blend"][0]["lb"].get<double>() == Approx(26.765).epsilon(1e-4));
    CHECK(json["cost_per_nutrient"]["materials"][0]["price_per_kg"].get<double>() == Approx(1.0));
    CHECK(to_text(answer, {}).find("Cost per lb of nutrient, crowns") != std::string::npos);
  }

  TEST_CASE("the page says what the table means and what it adds up to") {
    std::string page = to_text(Formulation(blend_with_costs(two_nutrients())), {});
    for (std::size_t at = page.find("\n  "); at != std::string::npos; at = page.find("\n  "))
      page.replace(at, 3, " ");  // where lines are broken does not matter
    CHECK(page.find("Cost per kg of nutrient, crowns") != std::string::npos);
    CHECK(page.find("meal") == page.rfind("meal"));  // only among what is left out
    CHECK(page.find("that makes 72.00 crowns/ha, the whole cost.") != std::string::npos);
  }
}
