#include <doctest/doctest.h>
#include <leastwise/report.hpp>
#include <leastwise/rounding.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

double weighed(const RoundedBlend& blend, const std::string& material) {
  for (const auto& p : blend.portions)
    if (p.material == material) return p.kg_per_batch;
  return 0;
}

/// N 20 %, P2O5 10 % and a little zinc as a powder, with 40 % of its mass as binder.
ScenarioDraft with_zinc_powder() {
  ScenarioDraft draft;
  draft.materials = {stated("u", 460, {{"N", 46}}), stated("p", 660, {{"N", 11}, {"P2O5", 52}}),
                     stated("f", 40, {{"Ca", 20}}), stated("z", 3000, {{"Zn", 78}}, Form::powder)};
  draft.grade_percent = {{"N", at_least(20)}, {"P2O5", at_least(10)}, {"Zn", {0.3, 0.45}}};
  BinderDraft binder;
  binder.material = "canola-oil";
  binder.percent_of_powder = 40;
  binder.price_per_t = 1200;
  draft.binder = binder;
  return draft;
}

/// The cheapest blend of `with_zinc_powder` and a second powder, in `steps` of a tonne, found by
/// trying every one; infinity: none keeps every rule.
double cheapest_of_all(int steps, double percent, double binder_price, double coating) {
  const double kg = 1000.0 / steps;
  double cheapest = std::numeric_limits<double>::infinity();
  for (int z = 0; z <= steps; ++z)
    for (int y = 0; z + y <= steps; ++y) {
      const double zinc = (0.78 * z + 0.3 * y) * kg / 10;
      if (zinc < 0.3 - 1e-9 || zinc > 0.45 + 1e-9) continue;
      const double asked = percent / 100 * (z + y);
      for (int b = 1; b <= static_cast<int>(asked) + 1; ++b) {
        if (std::fabs(b - asked) > 0.5 + 1e-9 && !(b == 1 && asked < 0.5)) continue;
        const int granules = steps - z - y - b;
        if (granules < 0 || 100.0 * (z + y + b) > coating * granules * (1 + 1e-9)) continue;
        for (int u = 0; u <= granules; ++u)
          for (int p = 0; u + p <= granules; ++p) {
            if ((46 * u + 11 * p) * kg < 20000 - 1e-6 || 52 * p * kg < 10000 - 1e-6) continue;
            const double cost =
                460 * u + 660 * p + 40 * (granules - u - p) + 3000 * z + 900 * y + binder_price * b;
            cheapest = std::min(cheapest, cost * kg / 1000);
          }
      }
    }
  return cheapest;
}

bool shows(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

bool whole_steps(const RoundedBlend& blend) {
  const auto whole = [&](double kg) {
    return std::fabs(kg / blend.step_kg - std::round(kg / blend.step_kg)) < 1e-9;
  };
  return whole(blend.binder->kg_per_batch) &&
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
    REQUIRE(blend.outcome.status == Status::optimal);
    CHECK(blend.feasible);
    CHECK(blend.proved);
    CHECK(weighed(blend, "carrier") == 253);
    CHECK(weighed(blend, "filler") == 747);
    CHECK(blend.batch_kg == 1000);
    CHECK(*blend.cost == doctest::Approx(0.253 * 400 + 0.747 * 50));
    CHECK(*blend.exact_cost == doctest::Approx(0.2525 * 400 + 0.7475 * 50));
    CHECK(blend.violations.empty());
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
    CHECK_FALSE(blend.feasible);
    CHECK(blend.proved);
    REQUIRE(blend.violations.size() == 1);
    CHECK(blend.violations[0].rule == "grade N exactly");
    CHECK(blend.violations[0].limit == doctest::Approx(10.1));
    CHECK(blend.violations[0].value == doctest::Approx(10.08));  // as near as 10.12, and cheaper
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
    REQUIRE(blend.feasible);
    CHECK(blend.proved);
    CHECK(whole_steps(blend));
    CHECK(weighed(blend, "zinc") == 4);        // 3.846 kg in theory
    CHECK(blend.binder->kg_per_batch == 1.5);  // 37.5 % of 4 kg
    CHECK(blend.binder->exact_kg_per_batch == doctest::Approx(1.5));
    CHECK(blend.batch_kg == 1000);
    CHECK(weighed(blend, "carrier") == 250);
    CHECK(weighed(blend, "filler") == 744.5);
    CHECK(*blend.cost == doctest::Approx(0.25 * 400 + 0.7445 * 50 + 0.004 * 3000 + 0.0015 * 900));
  }

  TEST_CASE("powders never go without binder: a share nearer to none is one step") {
    // 5 kg of powder ask for 2 kg; in steps of 5 kg that is nearer to none.
    const auto blend = round_to_step(Scenario(with_zinc_powder()), {.step_kg = 5});
    REQUIRE(blend.outcome.status == Status::optimal);
    CHECK(blend.feasible);
    CHECK(blend.proved);
    CHECK(weighed(blend, "z") == 5);
    CHECK(blend.binder->kg_per_batch == 5);
    CHECK(blend.binder->exact_kg_per_batch == doctest::Approx(2));
    // 3 kg of zinc in a tonne: 3.846 kg of powder off the grid.
    CHECK(blend.binder->off_grid_kg_per_batch == doctest::Approx(0.4 * 3 / 0.78));
    CHECK(blend.batch_kg == 1000);
    const std::string text = to_text(blend, {.width = 1000});
    CHECK(shows(text, "5 kg where these powders ask for 2.00 kg"));
    CHECK(shows(text, "Powders never go without binder"));
    CHECK(shows(text, "1.54"));  // the binder off the grid
  }

  TEST_CASE("the binder's one step counts against the coating limit") {
    // 5 kg of powder and 5 kg of binder on 990 kg are 1.01 %; off the grid 5.4 kg are 0.54 %.
    auto draft = with_zinc_powder();
    draft.coating_percent = at_most(0.8);
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 5});
    CHECK_FALSE(blend.feasible);
    CHECK(blend.proved);
    CHECK(blend.proven_infeasible);
    CHECK(weighed(blend, "z") == 5);
    CHECK(blend.binder->kg_per_batch == 5);
    REQUIRE(blend.violations.size() == 1);
    CHECK(blend.violations[0].rule == "coating max");
    CHECK(blend.violations[0].value == doctest::Approx(100 * 10.0 / 990));
    CHECK(blend.batch_kg == 1000);
  }

  TEST_CASE("a binder that weighs nothing is not weighed") {
    auto draft = with_zinc_powder();
    draft.binder->percent_of_powder = 0;
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 5});
    CHECK(blend.feasible);
    CHECK(weighed(blend, "z") == 5);
    CHECK(blend.binder->kg_per_batch == 0);
    CHECK_FALSE(shows(to_text(blend), "binder"));
  }

  TEST_CASE("of two powders and their binder nothing is cheaper, tried one by one") {
    int obeying = 0, blocked = 0, raised = 0;
    for (const int steps : {100, 160, 200})
      for (const double percent : {2.0, 10.0, 40.0, 60.0, 80.0, 100.0})
        for (const double price : {0.0, 1200.0})
          for (const double coating : {1.2, 2.0, 3.0}) {
            INFO(steps, " steps, ", percent, " %, price ", price, ", coating ", coating);
            auto draft = with_zinc_powder();
            draft.materials.push_back(stated("y", 900, {{"Zn", 30}}, Form::powder));
            draft.binder->percent_of_powder = percent;
            draft.binder->price_per_t = price;
            draft.coating_percent = at_most(coating);
            const Scenario scenario(draft);
            const auto blend = round_to_step(scenario, {.step_kg = 1000.0 / steps});
            if (blend.outcome.status == Status::infeasible) continue;
            REQUIRE(blend.outcome.status == Status::optimal);
            CHECK(blend.proved);
            const double cheapest = cheapest_of_all(steps, percent, price, coating);
            CHECK(blend.feasible == std::isfinite(cheapest));
            CHECK(whole_steps(blend));
            if (blend.binder->exact_kg_per_batch > 0)
              CHECK(blend.binder->kg_per_batch >= blend.step_kg * (1 - 1e-9));
            if (blend.feasible) {
              ++obeying;
              CHECK(*blend.cost == doctest::Approx(cheapest).epsilon(1e-9));
            } else {
              ++blocked;
            }
            if (blend.binder->exact_kg_per_batch < blend.step_kg / 2) ++raised;
          }
    CHECK(obeying > 20);
    CHECK(blocked > 10);
    CHECK(raised > 10);
  }

  TEST_CASE("a row so narrow that a millionth of a step breaks it takes the next step") {
    // 1.0000004 kg of zinc oxide: as good as on the grid, yet 1 kg lacks 4e-7 of what is asked.
    auto draft = carrier_and_filler();
    draft.materials.push_back(stated("zinc", 3000, {{"Zn", 78}}, Form::granule));
    draft.grade_percent.push_back({"Zn", at_least(0.078 * 1.0000004)});
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 0.5});
    REQUIRE(blend.outcome.status == Status::optimal);
    CHECK(blend.feasible);
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
    REQUIRE(blend.outcome.status == Status::optimal);
    CHECK(blend.feasible);
    CHECK(blend.proved);
    CHECK(weighed(blend, "gift") == 6.5);    // 6.41 kg
    CHECK(blend.binder->kg_per_batch == 2);  // 33 % of it is 2.15 kg
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
    CHECK(*ten.cost == doctest::Approx(130.5 * 0.46));
  }

  TEST_CASE("a blend that is on the grid already stays as it is") {
    const auto blend = round_to_step(Scenario(carrier_and_filler()), {.step_kg = 0.5});
    CHECK(weighed(blend, "carrier") == 250);
    CHECK(*blend.cost == doctest::Approx(*blend.exact_cost));
    CHECK(blend.proved);
  }

  TEST_CASE("an impossible scenario is a conflict on any grid") {
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", at_least(41)}};
    const auto blend = round_to_step(Scenario(draft));
    CHECK(blend.outcome.status == Status::infeasible);
    CHECK(blend.outcome.conflict);
    CHECK(blend.portions.empty());
  }

  TEST_CASE("cautions and supply are those of what is weighed, not of the blend off the grid") {
    // Off the grid urea and filler do; in halves of a tonne only urea with ammonium sulfate has
    // between 33 and 34 % N: (46 + 21) / 2 = 33.5.
    ScenarioDraft draft;
    draft.materials = {stated("u", 460, {{"N", 46}}), stated("as", 1000, {{"N", 21}, {"S", 24}}),
                       stated("f", 10, {{"Ca", 20}})};
    draft.materials[0].family = "urea";
    draft.materials[0].spread_percent = {{"N", 0.5}};
    draft.materials[1].family = "ammonium-sulfate";
    draft.grade_percent = {{"N", {33, 34}}};
    draft.notes = {{NoteLevel::info, leastwise::NoteCode::other, {}, "read from somewhere"}};
    const auto fine = round_to_step(Scenario(draft), {.step_kg = 1});
    CHECK(weighed(fine, "as") == 0);
    CHECK_FALSE(shows(to_text(fine, {.width = 1000}), "limited compatibility"));
    const auto coarse = round_to_step(Scenario(draft), {.step_kg = 500});
    REQUIRE(coarse.feasible);
    CHECK(weighed(coarse, "as") == 500);
    for (const auto& page : {to_text(coarse), to_html(coarse), to_json(coarse)}) {
      CHECK(shows(page, "limited"));
      CHECK(shows(page, "ead from somewhere"));
      CHECK(shows(page, "33.5"));
    }
    const auto nitrogen = std::find_if(coarse.supply.begin(), coarse.supply.end(),
                                       [](const Supply& s) { return s.nutrient == "N"; });
    REQUIRE(nitrogen != coarse.supply.end());
    CHECK(nitrogen->percent == doctest::Approx(33.5));
    CHECK(nitrogen->grade_percent.min == 33);
    CHECK(shows(to_text(coarse), "33 to 34"));
  }

  TEST_CASE("how sure a limit is, is said of what is weighed") {
    // 400 kg of urea of 46 % N in steps of 50 kg: 18.4 %, where 352.7 kg would do.
    auto draft = carrier_and_filler();
    draft.materials[0] = stated("carrier", 400, {{"N", 46}});
    draft.materials[0].spread_percent = {{"N", 0.5}};
    draft.grade_percent = {{"N", at_least(16)}};
    draft.grade_percent[0].confidence = 0.9;
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 50});
    CHECK(weighed(blend, "carrier") == 400);
    CHECK(shows(to_text(blend, {.width = 1000}), "holds 18.4"));
    CHECK(shows(to_json(blend), "holds 18.4"));
  }

  TEST_CASE("supply is held against the product with the binder as weighed") {
    const auto blend = round_to_step(Scenario(with_zinc_powder()), {.step_kg = 5});
    const auto zinc = std::find_if(blend.supply.begin(), blend.supply.end(),
                                   [](const Supply& s) { return s.nutrient == "Zn"; });
    REQUIRE(zinc != blend.supply.end());
    CHECK(zinc->percent == doctest::Approx(0.39));  // 3.9 kg in the 1000 kg weighed
  }

  TEST_CASE("CSV has the binder, what each costs and the rules that give way") {
    auto draft = with_zinc_powder();
    draft.currency = "USD";
    draft.coating_percent = at_most(0.8);
    draft.binder->material.clear();
    draft.blending_fee_per_t = 18;
    const auto blend = round_to_step(Scenario(draft), {.step_kg = 5});
    const auto csv = to_csv(blend);
    INFO(csv);
    CHECK(shows(csv, "no,z,powder,5,"));
    CHECK(shows(csv, "no,binder,binder,5,1.53846153846,6,USD,,"));
    CHECK(shows(csv, "no,blending fee,fee,,,18,USD,,"));
    CHECK(shows(csv, ",coating max 0.8 %: 1.0101 %\n"));
    double sum = blend.binder->cost_per_batch + *blend.blending_cost_per_batch;
    for (const auto& p : blend.portions) sum += p.cost_per_batch;
    CHECK(sum == doctest::Approx(*blend.cost));
    CHECK(shows(to_json(blend), "\"off_grid_binder_kg_per_batch\": 1.53846153846"));
  }

  TEST_CASE("questions that make no sense are refused") {
    const Scenario scenario(carrier_and_filler());
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 0}), std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = -1}), std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = NAN}), std::invalid_argument);
    CHECK_THROWS_WITH_AS((void)round_to_step(scenario, {.step_kg = 1e12}),
                         "the step in kg must be above 0 and at most 1000000000, found 1e+12",
                         std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 3}), std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 1, .batch_hectares = 2}),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)round_to_step(scenario, {.step_kg = 1, .batch_kg = 0.5}),
                    std::invalid_argument);
  }
}
