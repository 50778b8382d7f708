#include <doctest/doctest.h>
#include <leastwise/rounding.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "unit/insight/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

double weighed(const RoundedBlend& blend, const std::string& material) {
  for (const auto& p : blend.portions)
    if (p.material == material) return p.kg_per_batch;
  return 0;
}

bool whole_steps(const RoundedBlend& blend) {
  const auto whole = [&](double kg) {
    return std::fabs(kg / blend.step_kg - std::round(kg / blend.step_kg)) < 1e-9;
  };
  return whole(blend.binder_kg_per_batch) &&
         std::all_of(blend.portions.begin(), blend.portions.end(),
                     [&](const WeighedPortion& p) { return whole(p.kg_per_batch); });
}

}  // namespace

TEST_SUITE("blends in steps of the scale") {
  TEST_CASE("a minimum is kept by rounding the carrier up and the filler down") {
    // 250 kg carrier exactly at N 10 %; at N 10.1 %: 252.5 kg, so 253 in steps of 1 kg.
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", at_least(10.1)}};
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 1});
    REQUIRE(blend.ending.status == Status::optimal);
    CHECK(blend.obeys);
    CHECK(blend.proved);
    CHECK(weighed(blend, "carrier") == 253);
    CHECK(weighed(blend, "filler") == 747);
    CHECK(blend.batch_kg == 1000);
    CHECK(blend.cost == doctest::Approx(0.253 * 400 + 0.747 * 50));
    CHECK(blend.exact_cost == doctest::Approx(0.2525 * 400 + 0.7475 * 50));
    CHECK(blend.drifts.empty());
  }

  TEST_CASE("a smaller batch coarsens the grid") {
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", at_least(10.1)}};
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 1, .batch_kg = 100});
    CHECK(weighed(blend, "carrier") == 26);
    CHECK(weighed(blend, "filler") == 74);
    CHECK(blend.batch_kg == 100);
  }

  TEST_CASE("an equality off the grid gives way least, and the drift is named") {
    // N exactly 10.1 % needs 252.5 kg; in steps of 1 kg 252 gives 10.08 %, 253 gives 10.12 %.
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", {10.1, 10.1}}};
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 1});
    CHECK_FALSE(blend.obeys);
    CHECK(blend.proved);
    REQUIRE(blend.drifts.size() == 1);
    CHECK(blend.drifts[0].rule == "grade N exactly");
    CHECK(blend.drifts[0].limit == doctest::Approx(10.1));
    CHECK(blend.drifts[0].value == doctest::Approx(10.08));  // as near as 10.12, and cheaper
    CHECK(weighed(blend, "carrier") == 252);
    CHECK(blend.batch_kg == 1000);
  }

  TEST_CASE("the binder is weighed in steps too and the batch is whole") {
    auto draft = carrier_and_filler();
    draft.materials.push_back(stated("zinc", 3000, {{"Zn", 78}}, Form::powder));
    draft.grade_percent.push_back({"Zn", at_least(0.3)});
    BinderDraft binder;
    binder.material = "sodium-silicate";
    binder.price_per_t = 900;
    draft.binder = binder;
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 0.5});
    REQUIRE(blend.obeys);
    CHECK(blend.proved);
    CHECK(whole_steps(blend));
    CHECK(weighed(blend, "zinc") == 4);       // 3.846 kg in theory
    CHECK(blend.binder_kg_per_batch == 1.5);  // 37.5 % of 4 kg
    CHECK(blend.exact_binder_kg_per_batch == doctest::Approx(1.5));
    CHECK(blend.batch_kg == 1000);
    CHECK(weighed(blend, "carrier") == 250);
    CHECK(weighed(blend, "filler") == 744.5);
    CHECK(blend.cost == doctest::Approx(0.25 * 400 + 0.7445 * 50 + 0.004 * 3000 + 0.0015 * 900));
  }

  TEST_CASE("a row so narrow that a millionth of a step breaks it takes the next step") {
    // 1.0000004 kg of zinc oxide: as good as on the grid, yet 1 kg lacks 4e-7 of what is asked.
    auto draft = carrier_and_filler();
    draft.materials.push_back(stated("zinc", 3000, {{"Zn", 78}}, Form::granule));
    draft.grade_percent.push_back({"Zn", at_least(0.078 * 1.0000004)});
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 0.5});
    REQUIRE(blend.ending.status == Status::optimal);
    CHECK(blend.obeys);
    CHECK(blend.proved);
    CHECK(weighed(blend, "zinc") == 1.5);
    CHECK(weighed(blend, "carrier") == 250);
    CHECK(weighed(blend, "filler") == 748.5);
  }

  TEST_CASE("a powder that costs nothing and its binder are weighed per hectare") {
    ScenarioDraft draft;
    draft.materials = {stated("rich", 460, {{"N", 46}}),
                       stated("gift", 0, {{"Zn", 78}}, Form::powder)};
    draft.rates_kg_per_ha = {{"N", at_least(60)}, {"Zn", at_least(0.5)}};
    BinderDraft binder;
    binder.material = "sodium-silicate";
    binder.percent_of_powder = 33;
    binder.price_per_t = 1111;
    draft.binder = binder;
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 0.5, .batch_hectares = 10});
    REQUIRE(blend.ending.status == Status::optimal);
    CHECK(blend.obeys);
    CHECK(blend.proved);
    CHECK(weighed(blend, "gift") == 6.5);  // 6.41 kg
    CHECK(blend.binder_kg_per_batch == 2);  // 33 % of it is 2.15 kg
    CHECK(weighed(blend, "rich") == 1304.5);
  }

  TEST_CASE("per hectare the batch is the product for so much land") {
    ScenarioDraft draft;
    draft.materials = {stated("rich", 460, {{"N", 46}})};
    draft.rates_kg_per_ha = {{"N", at_least(60)}};  // 130.43 kg/ha
    const auto one = round_to_step(Scenario(draft), {.step_kg = 1});
    CHECK(weighed(one, "rich") == 131);
    const auto ten = round_to_step(Scenario(draft), {.step_kg = 1, .batch_hectares = 10});
    CHECK(weighed(ten, "rich") == 1305);
    CHECK(*ten.batch_hectares == 10);
    CHECK(ten.cost == doctest::Approx(130.5 * 0.46));
  }

  TEST_CASE("a blend that is on the grid already stays as it is") {
    const auto blend = round_to_step(Scenario(carrier_and_filler()), {.step_kg = 0.5});
    CHECK(weighed(blend, "carrier") == 250);
    CHECK(blend.cost == doctest::Approx(blend.exact_cost));
    CHECK(blend.proved);
  }

  TEST_CASE("an impossible scenario is a conflict on any grid") {
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", at_least(41)}};
    const auto blend = round_to_step(Scenario(draft));
    CHECK(blend.ending.status == Status::infeasible);
    CHECK(blend.ending.conflict);
    CHECK(blend.portions.empty());
  }

  TEST_CASE("questions that make no sense are refused") {
    const Scenario scenario(carrier_and_filler());
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 0}), std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = -1}), std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = NAN}), std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 3}), std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 1, .batch_hectares = 2}),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 1, .batch_kg = 0.5}),
                    std::invalid_argument);
  }
}
