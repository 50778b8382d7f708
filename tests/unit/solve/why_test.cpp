#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <algorithm>

#include "scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;
using doctest::Approx;

namespace {

WhyMaterial why_of(const ScenarioDraft& draft, const std::string& material) {
  const Formulation answer = formulate(Scenario(draft), {.why = {material}});
  REQUIRE(answer.blend());
  REQUIRE(answer.blend()->why.size() == 1);
  return answer.blend()->why.front();
}

double part_of(const Blend& blend, const std::string& rule) {
  const auto found = std::ranges::find(blend.cost_parts, rule, &CostPart::rule);
  return found == blend.cost_parts.end() ? 0 : found->cost;
}

}  // namespace

TEST_SUITE("why") {
  // N costs 0.875 a kg (8.75 a point, of 10 kg) and any kg as filler 0.05:
  // 100 kg x 0.875 + 1000 kg x 0.05 = 137.50.
  TEST_CASE("what the rules pay for adds up to the cost") {
    const Formulation answer = formulate(Scenario(carrier_and_filler()));
    const Blend& blend = *answer.blend();
    CHECK(blend.cost_parts_add_up);
    CHECK(part_of(blend, "grade N min") == Approx(87.5));
    CHECK(part_of(blend, "mass") == Approx(50));
    CHECK(blend.cost_parts.front().kg == Approx(100));
    CHECK(blend.cost_parts.front().price_per_kg == Approx(0.875));
  }

  // A rival with 20 % N is worth 200 x 0.875 + 50 = 225 a tonne; at 300 it is 75 too dear, and
  // 10 kg of it cost 0.75.
  TEST_CASE("a material that is too dear: worth, entry price and the cost of forcing 1 %") {
    ScenarioDraft draft = carrier_and_filler();
    draft.materials.push_back(stated("rival", 300, {{"N", 20}, {"N-urea", 20}}));
    const WhyMaterial why = why_of(draft, "rival");
    CHECK_FALSE(why.used);
    CHECK(why.cost_per_t == Approx(300));
    CHECK(why.worth_per_t == Approx(225));
    REQUIRE(why.worth.size() == 2);
    CHECK(why.worth[0].rule == "grade N min");
    CHECK(why.worth[0].worth_per_t == Approx(175));
    CHECK(why.worth[1].rule == "mass");
    CHECK(*why.enters_below_price_per_t == Approx(225));
    CHECK(why.forced_percent == 1);
    CHECK(why.forced_rise.value() == Approx(0.75));
  }

  TEST_CASE("a material that no price brings in has no entry price, and none below zero") {
    ScenarioDraft draft = carrier_and_filler();
    draft.grade_percent.push_back({"Cl", at_most(0.5)});
    draft.materials.push_back(stated("salty", 80, {{"Cl", 60}}));
    draft.materials[1].price_per_t = 0;  // the filler is free: nothing can be cheaper
    const WhyMaterial why = why_of(draft, "salty");
    CHECK(why.enters_below_price_per_t.is_none());
    CHECK(why.forced_cost.is_none());  // 1 % brings 0.6 % of chloride
    CHECK(std::ranges::find(why.conflict, "grade Cl max") != why.conflict.end());
  }

  TEST_CASE("the partner that keeps a material out is named") {
    ScenarioDraft draft = carrier_and_filler();
    draft.materials = {stated("urea", 300, {{"N", 46}, {"N-urea", 46}}),
                       stated("filler", 50, {{"Ca", 30}}), stated("sour", 10, {{"P2O5", 20}})};
    draft.materials[2].family = "triple-superphosphate";
    draft.incompatible = {{"urea", "triple-superphosphate"}};
    draft.materials[2].price_per_t = 90;
    const WhyMaterial why = why_of(draft, "sour");
    REQUIRE(why.apart.size() == 1);
    CHECK(why.apart[0].material == "urea");
    CHECK(why.forced_cost.is_none());
    CHECK(std::ranges::find(why.conflict, "apart triple-superphosphate / urea") !=
          why.conflict.end());
  }

  TEST_CASE("a built-in material that only `use` names can be asked about") {
    ScenarioDraft draft;
    draft.use = {"urea", "mop", "sop"};
    draft.prices = {{"urea", 430, {}, {}}, {"mop", 360, {}, {}}, {"sop", 640, {}, {}}};
    draft.grade_percent = {{"N", at_least(10)}, {"K2O", at_least(10)}};
    const WhyMaterial why = why_of(draft, "sop");
    REQUIRE(why.forced_cost);
    CHECK(why.forced_rise.value() > 0);
  }

  TEST_CASE("of a material in the blend it says what it is worth: its cost") {
    const WhyMaterial why = why_of(carrier_and_filler(), "carrier");
    CHECK(why.used);
    CHECK(why.worth_per_t == Approx(400));
  }
}
