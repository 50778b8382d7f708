#include <doctest/doctest.h>
#include <leastwise/leastwise.hpp>

#include <algorithm>
#include <stdexcept>
#include <string>

#include "scenarios.hpp"

// Prices by quantity and minimum lots, with optima worked by hand.

using namespace leastwise;
using namespace leastwise::testing;

namespace {

/// Per tonne, K2O exactly 23 %: rich u (46 %), poor a (21 %, 190) and filler f (30).
/// u + a + f = 1000 and 0.46 u + 0.21 a = 230 give a = 1095.238 - 2.190476 u, and f >= 0 gives
/// u >= 80. The cost is 205.238 + u (p/1000 - 0.380476) at a price of p for rich: at 420 the least
/// of it is best, 80 kg and 208.40; at 380 the most, 500 kg and 205.00.
ScenarioDraft two_sources(double tonnes) {
  ScenarioDraft draft;
  draft.currency = "crowns";
  draft.materials = {stated("rich", 420, {{"K2O", 46}}), stated("poor", 190, {{"K2O", 21}}),
                     stated("filler", 30, {{"Ca", 30}})};
  draft.grade_percent = {{"K2O", {23, 23}}};
  draft.make_tonnes = tonnes;
  return draft;
}

PriceTierDraft from(double tonnes, double price) { return {tonnes, {}, price}; }
PriceTierDraft beyond(double tonnes, double price) { return {{}, tonnes, price}; }

ScenarioDraft tiered(double tonnes, std::vector<PriceTierDraft> tiers) {
  auto draft = two_sources(tonnes);
  draft.materials[0].price_per_t.reset();
  draft.materials[0].price_tiers = std::move(tiers);
  return draft;
}

double kg_of(const Blend& blend, const std::string& material) {
  const auto found = std::ranges::find(blend.portions, material, &Portion::material);
  return found == blend.portions.end() ? 0 : found->kg_per_t;
}

Blend blend_of(const ScenarioDraft& draft) {
  const auto answer = formulate(Scenario(draft));
  REQUIRE(answer.blend() != nullptr);
  return *answer.blend();
}

}  // namespace

TEST_SUITE("price tiers") {
  TEST_CASE("a lower price of every tonne is reached where that is cheapest") {
    // 500 kg/t of 50 t are the 25 t from which rich costs 380.
    const Blend blend = blend_of(tiered(50, {from(0, 420), from(25, 380)}));
    CHECK(blend.cost_per_t == doctest::Approx(205));
    CHECK(kg_of(blend, "rich") == doctest::Approx(500));
    REQUIRE(blend.purchases.size() == 1);
    const BlendPurchase& rich = blend.purchases.front();
    CHECK(rich.tonnes == doctest::Approx(25));
    CHECK(rich.price_paid_per_t == 380);
    CHECK(rich.tier->from_t == 25);
    CHECK_FALSE(rich.next);
    CHECK(blend.breakdown.materials_per_t == doctest::Approx(205));
    CHECK(blend.cost_parts_add_up);
  }

  TEST_CASE("where it is out of reach the answer says what it would take") {
    const Blend blend = blend_of(tiered(49, {from(0, 420), from(25, 380)}));
    CHECK(blend.cost_per_t == doctest::Approx(208.40));
    CHECK(kg_of(blend, "rich") == doctest::Approx(80));
    const BlendPurchase& rich = blend.purchases.front();
    CHECK(rich.tonnes == doctest::Approx(3.92));
    CHECK(rich.price_paid_per_t == 420);
    CHECK(rich.next->from_t == 25);
    CHECK(rich.short_of_next_t == doctest::Approx(21.08));
    CHECK(rich.saved_by_buying_up == 0);
  }

  TEST_CASE("buying more than is used is told where it costs less, and not done") {
    // Without poor the blend takes 500 kg/t of rich: 24.5 t of the 25 t that cost 9500.
    auto draft = tiered(49, {from(0, 420), from(25, 380)});
    draft.materials.erase(draft.materials.begin() + 1);
    const Blend blend = blend_of(draft);
    CHECK(blend.cost_per_t == doctest::Approx(225));
    CHECK(blend.purchases.front().saved_by_buying_up == doctest::Approx(24.5 * 420 - 25 * 380));
    CHECK(to_text(Formulation(blend)).find("790.00 crowns less") != std::string::npos);
  }

  TEST_CASE("further tonnes at a higher price are bought while they pay") {
    // The cost rises with u above a price of 380.476 and falls below: the first 10 t at 370, 200
    // kg/t of 50 t, are worth it, those beyond at 400 are not.
    const Blend blend = blend_of(tiered(50, {beyond(0, 370), beyond(10, 400)}));
    CHECK(kg_of(blend, "rich") == doctest::Approx(200));
    CHECK(blend.cost_per_t == doctest::Approx(205.238095 + 0.2 * (370 - 380.476190)));
    CHECK(blend.purchases.front().price_paid_per_t == doctest::Approx(370));
    CHECK(blend.cost_parts_add_up);
  }

  TEST_CASE("the price paid of further tonnes is the average") {
    auto draft = tiered(50, {beyond(0, 370), beyond(10, 400)});
    draft.materials.erase(draft.materials.begin() + 1);  // 25 t are needed
    const Blend blend = blend_of(draft);
    CHECK(blend.purchases.front().price_paid_per_t == doctest::Approx((3700 + 15 * 400) / 25.0));
    CHECK(blend.cost_per_t == doctest::Approx(0.5 * 388 + 15));
  }

  TEST_CASE("of a minimum lot none is bought, or at least so much") {
    auto draft = two_sources(50);
    draft.materials[0].minimum_lot_t = 6;  // 120 kg/t; f = 0 at u = 80 no longer
    const Blend blend = blend_of(draft);
    CHECK(kg_of(blend, "rich") == doctest::Approx(120));
    CHECK(blend.cost_per_t == doctest::Approx(205.238095 + 0.12 * (420 - 380.476190)));
    const auto lot = std::ranges::find(blend.binding, std::string("lot rich"), &BindingRule::rule);
    REQUIRE(lot != blend.binding.end());
    CHECK(lot->limit == 6000);
    // A kg more of the lot is 20 g more of rich in a tonne.
    CHECK(lot->shadow_price == doctest::Approx((420 - 380.476190) / 1000 / 50));
    draft.materials[0].minimum_lot_t = 26;  // more than the 25 t that 23 % can take
    const auto none = formulate(Scenario(draft));
    REQUIRE(none.conflict() != nullptr);
    CHECK(std::ranges::any_of(none.conflict()->rules,
                              [](const auto& rule) { return rule.rule == "lot rich"; }));
  }

  TEST_CASE("lots and tiers of a product by the hectare count hectares") {
    ScenarioDraft draft;
    draft.materials = {stated("rich", 420, {{"K2O", 46}}), stated("poor", 190, {{"K2O", 21}})};
    draft.rates_kg_per_ha = {{"K2O", {92, 92}}};
    draft.make_hectares = 100;
    // 92 kg K2O: 200 kg/ha rich, 84.00, or 438.1 kg/ha poor, 83.24.
    CHECK(*blend_of(draft).cost_per_ha == doctest::Approx(92 / 0.21 * 0.19));
    draft.materials[0].price_per_t.reset();
    draft.materials[0].price_tiers = {from(0, 420), from(20, 410)};
    CHECK(*blend_of(draft).cost_per_ha == doctest::Approx(82));
    draft.materials[0].price_tiers = {from(0, 420), from(20.1, 410)};
    CHECK(*blend_of(draft).cost_per_ha == doctest::Approx(92 / 0.21 * 0.19));
    draft.materials[1].minimum_lot_t = 45;  // 450 kg/ha bring too much
    CHECK(*blend_of(draft).cost_per_ha == doctest::Approx(84));
  }

  TEST_CASE("a stated price replaces the tiers, prepared or not") {
    const Scenario scenario(tiered(50, {from(0, 420), from(25, 380)}));
    const auto flat = formulate(scenario.with_price("rich", 420));
    CHECK(flat.blend()->cost_per_t == doctest::Approx(208.40));
    const PreparedBlend prepared(scenario);
    CHECK(prepared.formulate({}).blend()->cost_per_t == doctest::Approx(205));
    CHECK(prepared.with_price("rich", 420).blend()->cost_per_t == doctest::Approx(208.40));
    CHECK(prepared.with_price("filler", 130).blend()->cost_per_t == doctest::Approx(208.40));
  }

  TEST_CASE("what does not know prices by quantity says so") {
    auto draft = tiered(50, {from(0, 420), from(25, 380)});
    draft.risk.emplace();
    draft.risk->prices.push_back({"poor", PriceShape::normal, 10});
    const Scenario scenario(draft);
    CHECK_THROWS_AS(static_cast<void>(price_risk(scenario)), std::invalid_argument);
    CHECK_THROWS_AS(static_cast<void>(alternatives(scenario, 2)), std::invalid_argument);
    CHECK_THROWS_AS(
        static_cast<void>(near_optimum(scenario, 1, SecondaryObjective::fewest_materials, {})),
        std::invalid_argument);
    CHECK_THROWS_AS(static_cast<void>(round_to_step(scenario, {.step_kg = 5})),
                    std::invalid_argument);
    CHECK_THROWS_AS(static_cast<void>(price_map(scenario, "rich", 300, 500)),
                    std::invalid_argument);
    const auto proven = formulate_with_proof(scenario);
    CHECK_FALSE(proven.proof);
    CHECK(proven.why_no_proof.find("price tiers") != std::string::npos);
  }

  TEST_CASE("a proof of other goods does not pass for one with tiers or lots") {
    const auto proven = formulate_with_proof(Scenario(two_sources(50)));
    REQUIRE(proven.proof);
    CHECK(verify(*proven.proof, Scenario(two_sources(50))).verdict == ProofVerdict::proved_optimal);
    CHECK(verify(*proven.proof, Scenario(tiered(50, {from(0, 420)}))).verdict ==
          ProofVerdict::not_proved);
    auto lot = two_sources(50);
    lot.materials[1].minimum_lot_t = 1;
    CHECK(verify(*proven.proof, Scenario(lot)).verdict == ProofVerdict::not_proved);
  }

  TEST_CASE("maps of another price know the tiers") {
    const Scenario scenario(tiered(50, {from(0, 420), from(25, 380)}));
    const auto map = price_map(scenario, "poor", 150, 250);
    REQUIRE(map.outcome.status == Status::optimal);
    for (const PriceBand& band : map.bands)
      for (const double price : {band.from, band.to}) {
        const auto at = formulate(scenario.with_price("poor", price));
        const double cost = price == band.from ? band.cost_from : band.cost_to;
        CHECK(cost == doctest::Approx(at.blend()->cost_per_t));
      }
  }
}
