#include "trial/stock_mix.hpp"

#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "samples.hpp"
#include "trial/mix_steps.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

const std::vector<Balance> tenth{{"bench", 6, 0.1}};

StockMix mix_of(const std::vector<trial::MixIngredient>& ingredients, double factor,
                double needed_mg, const std::vector<Balance>& scales = tenth) {
  StockMix mix;
  mix.code = "mix X-1";
  mix.carrier = "talc";
  trial::make_steps(scales, ingredients, trial::dilution_of(factor), needed_mg, mix);
  return mix;
}

/// Follows the steps by hand and returns the fraction of the first ingredient.
double followed(const StockMix& mix) {
  double fraction = 0;
  for (const auto& step : mix.steps) {
    double g = 0;
    double all = 0;
    for (const auto& weighing : step.weighings) {
      const auto mg = static_cast<double>(weighing.mass_mg);
      all += mg;
      if (weighing.material == mix.parts.front().material) g += mg;
      if (weighing.earlier_mix) g += mg * fraction;
    }
    fraction = g / all;
  }
  return fraction;
}

const Weighing* mix_row(const TreatmentPlan& plan) {
  const auto found =
      std::ranges::find_if(plan.weighings, [](const Weighing& w) { return w.mix.has_value(); });
  return found == plan.weighings.end() ? nullptr : &*found;
}

/// 400 kg/ha of granules with `kg` of a powder on four plots of 20 m2, on a balance of 0.1 g.
TrialDraft thin(double kg) {
  TrialDraft draft = small_trial({recipe(400, kg)});
  draft.balances = {{"bench", 6, 0.1}};
  return draft;
}

}  // namespace

TEST_SUITE("stock mixes") {
  TEST_CASE(
      "one part in seven takes one step, in 25 two of one in five, in 1001 four of one in six") {
    CHECK(trial::dilution_of(6.3).steps == 1);
    CHECK(trial::dilution_of(6.3).parts == 7);
    CHECK(trial::dilution_of(25).steps == 2);
    CHECK(trial::dilution_of(25).parts == 5);
    CHECK(trial::dilution_of(1001).steps == 4);
    CHECK(trial::dilution_of(1001).parts == 6);
    CHECK(trial::dilution_of(1).steps == 0);
  }

  TEST_CASE("a seventh of 5.6 g: 5 g of powder in 30 g of carrier") {
    const StockMix mix = mix_of({{"boric-acid", 1}}, 6.25, 5600);
    REQUIRE(mix.steps.size() == 1);
    REQUIRE(mix.steps[0].weighings.size() == 2);
    CHECK(mix.steps[0].weighings[0].mass_mg == 5000);
    CHECK(mix.steps[0].weighings[1].mass_mg == 30000);
    CHECK(mix.mass_mg == 35000);
    CHECK(mix.parts[0].fraction == doctest::Approx(1.0 / 7));
  }

  TEST_CASE("no weighing of a mix is below 50 digits, and its steps give what it says it holds") {
    for (double factor = 1.2; factor < 9000; factor *= 1.7) {
      for (const double digit : {0.01, 0.1, 2.0}) {
        CAPTURE(factor);
        CAPTURE(digit);
        const std::vector<Balance> balances{{"only", digit * 40000 / 1000, digit}};
        const double least = 50 * digit * 1000;
        const StockMix mix = mix_of({{"powder", 1}}, factor, 3 * least, balances);
        for (const auto& step : mix.steps) {
          for (const auto& weighing : step.weighings) {
            CHECK(static_cast<double>(weighing.mass_mg) >= least * (1 - 1e-9));
            CHECK(weighing.mass_mg % weighing.readability_mg == 0);
          }
        }
        CHECK(mix.parts.front().fraction == doctest::Approx(followed(mix)).epsilon(1e-12));
        // Never richer than asked, and hardly thinner.
        const double nominal = 1 / trial::dilution_of(factor).factor();
        CHECK(mix.parts.front().fraction <= nominal * (1 + 1e-9));
        CHECK(mix.parts.front().fraction >= nominal * 0.88);
        CHECK(static_cast<double>(mix.mass_mg) >= 3 * least);
      }
    }
  }

  TEST_CASE("powders in one ratio share a mix, each of at least 50 digits and near its share") {
    const StockMix mix = mix_of({{"a", 3}, {"b", 0.7}, {"c", 0.1}}, 4, 8000);
    REQUIRE(mix.parts.size() == 4);
    for (const auto& weighing : mix.steps.front().weighings) CHECK(weighing.mass_mg >= 5000);
    CHECK(mix.parts[1].fraction / mix.parts[0].fraction == doctest::Approx(0.7 / 3).epsilon(0.01));
    CHECK(mix.parts[2].fraction / mix.parts[0].fraction == doctest::Approx(0.1 / 3).epsilon(0.01));
  }

  TEST_CASE("a powder too little for the balance is a row of a mix, never of nothing") {
    const TrialPlan plan = plan_trial(Trial(thin(0.2)));  // 1.6 g of powder in 3.2 kg
    const TreatmentPlan& t = plan.treatments.front();
    REQUIRE(t.state == TreatmentState::planned);
    REQUIRE(plan.mixes.size() == 1);
    CHECK(plan.mixes[0].code == "mix Zn-1");
    CHECK(plan.mixes[0].carrier == "inert carrier");
    const Weighing* row = mix_row(t);
    REQUIRE(row != nullptr);
    CHECK(row->material == "mix Zn-1");
    CHECK(row->mass_mg >= 5000);
    for (const auto& w : t.weighings) {
      CHECK(w.mass_mg > 0);
      CHECK(w.material != "powder");
    }
    // 50 % Zn: 0.1 kg/ha, by the mix as it is weighed.
    for (const auto& n : t.nutrients)
      if (n.nutrient == "Zn") CHECK(n.achieved_kg_per_ha == doctest::Approx(0.1).epsilon(0.01));
    // The carrier makes the product heavier, needs binder, and is bought.
    CHECK(t.product_kg_per_ha > 400 + 0.2 * 1.375);
    CHECK(t.coating->powder_mg == row->mass_mg);
    CHECK(t.coating->binder_g_per_kg_powder == doctest::Approx(375).epsilon(0.03));
    const bool bought = std::ranges::any_of(plan.purchases, [](const Purchase& p) {
      return p.material == "inert carrier" && p.need_mg > 0 && p.mix_rest_mg > 0;
    });
    CHECK(bought);
  }

  TEST_CASE("what goes into a mix is used or left over, to the milligram") {
    const TrialPlan plan = plan_trial(Trial(thin(0.2)));
    const StockMix& mix = plan.mixes.front();
    std::int64_t used = 0;
    std::int64_t weighed = 0;
    for (const auto& part : mix.parts) {
      used += part.used_mg;
      weighed += part.weighed_mg;
      CHECK(part.used_mg <= part.weighed_mg);
    }
    CHECK(used == mix.taken_mg);
    CHECK(weighed == mix.mass_mg);  // one step: nothing else was made
    for (const auto& part : mix.parts) {
      const auto line = std::ranges::find(plan.purchases, part.material, &Purchase::material);
      REQUIRE(line != plan.purchases.end());
      CHECK(line->need_mg + line->spare_mg + line->mix_rest_mg == part.weighed_mg);
    }
  }

  TEST_CASE(
      "another powder of the load that can spare the mass is the carrier, and its row smaller") {
    TreatmentDraft treatment = recipe(400, 2);
    ScenarioDraft scenario = treatment.scenario->draft();
    MaterialDraft trace = scenario.materials[1];
    trace.name = "trace";
    trace.contains_percent = {{"B", 15}};
    scenario.materials.push_back(trace);
    treatment.scenario = Scenario(scenario);
    treatment.recipe_kg_per_ha.push_back({"trace", 0.05});  // 0.4 g beside 16 g of powder
    TrialDraft draft = small_trial({treatment});
    draft.balances = {{"bench", 6, 0.1}};
    const TrialPlan plan = plan_trial(Trial(draft));
    const TreatmentPlan& t = plan.treatments.front();
    REQUIRE(t.state == TreatmentState::planned);
    REQUIRE(plan.mixes.size() == 1);
    CHECK(plan.mixes[0].carrier == "powder");
    CHECK(plan.mixes[0].carrier_in_load);
    CHECK(t.product_kg_per_ha == doctest::Approx(400 + 2.05 * 1.375));  // nothing is added
    const Weighing& row = *mix_row(t);
    const auto own = std::ranges::find(t.weighings, "powder", &Weighing::material);
    REQUIRE(own != t.weighings.end());
    const double from_mix = static_cast<double>(row.mass_mg) * plan.mixes[0].parts.back().fraction;
    CHECK(
        static_cast<double>(own->mass_mg) + from_mix ==
        doctest::Approx(2.0 / (400 + 2.05 * 1.375) * static_cast<double>(t.load_mg)).epsilon(0.01));
    for (const auto& n : t.nutrients)
      if (n.nutrient == "B") CHECK(n.achieved_kg_per_ha == doctest::Approx(0.0075).epsilon(0.02));
  }

  TEST_CASE("two treatments that need the same powder take from one mix") {
    TreatmentDraft more = recipe(400, 0.3);
    more.name = "more";
    TrialDraft draft = small_trial({recipe(400, 0.2), more});
    draft.balances = {{"bench", 6, 0.1}};
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.mixes.size() == 1);
    CHECK(plan.mixes[0].batch_codes.size() == 2);
    for (const auto& t : plan.treatments) REQUIRE(mix_row(t) != nullptr);
    CHECK(static_cast<double>(mix_row(plan.treatments[1])->mass_mg) ==
          doctest::Approx(1.5 * static_cast<double>(mix_row(plan.treatments[0])->mass_mg))
              .epsilon(0.02));
  }

  TEST_CASE("a trace on a coarse balance is thinned out in several steps") {
    TrialDraft draft = thin(0.02);  // 0.16 g: one part in 47
    draft.treatments[0].recipe_kg_per_ha[0].kg_per_ha = 2000;
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.treatments[0].state == TreatmentState::planned);
    REQUIRE(plan.mixes.size() == 1);
    REQUIRE(plan.mixes[0].steps.size() == 2);
    CHECK(plan.mixes[0].steps[0].batch_code == "ST-MIX1-1");
    CHECK(plan.mixes[0].steps[1].weighings[0].material == "mix Zn-1 step 1");
    CHECK(to_text(plan).find("Step 2 of 2 (ST-MIX1-2)") != std::string::npos);
    CHECK(to_csv(plan, PlanList::batches).find("ST-MIX1-2,,mix Zn-1,mix Zn-1 step 1,stock mix") !=
          std::string::npos);
  }

  TEST_CASE("where no load keeps a rule to within 1 % there is no product, and the rule is named") {
    // 40 kg/ha of granules carry 0.8 kg of coating; a mix of 5 g in a load of 320 g is too much,
    // and 0.16 g on a balance of 0.1 g are off by 25 %.
    TrialDraft draft = small_trial({solved("starter", starter())});
    ScenarioDraft scenario = starter();
    scenario.total_kg_per_ha = Limits{0, 250};
    draft.treatments = {solved("starter", scenario)};
    draft.sites[0].plot_area_m2 = 0.02;  // pots
    draft.balances = {{"bench", 6, 0.1}};
    const TrialPlan plan = plan_trial(Trial(draft));
    const TreatmentPlan& t = plan.treatments.front();
    CHECK(t.state == TreatmentState::unweighable);
    CHECK(!plan.complete());
    CHECK(t.weighings.empty());
    CHECK(plan.purchases.empty());
    CHECK(std::ranges::any_of(t.rules,
                              [](const RuleCheck& r) { return r.verdict == Verdict::broken; }));
    CHECK(to_text(plan).find("NOT MADE") != std::string::npos);
    for (const auto& plot : plan.plots) CHECK(plot.packs.empty());
  }

  TEST_CASE("a mix is sized by the treatments that can be made") {
    // Both take 0.2 g of zinc oxide in 1.5 kg; the granules of the second carry none of it.
    ScenarioDraft scenario = starter();
    scenario.materials.pop_back();
    scenario.rates_kg_per_ha.pop_back();
    scenario.rates_kg_per_ha.back().limits = Limits{0.02, 0.02};
    ScenarioDraft bare = scenario;
    bare.coating_percent.emplace().max = 0.03;
    TrialDraft one = small_trial({solved("good", scenario)});
    TrialDraft both = small_trial({solved("good", scenario), solved("bare", bare)});
    const TrialPlan alone = plan_trial(Trial(one));
    const TrialPlan plan = plan_trial(Trial(both));
    REQUIRE(plan.treatments[0].state == TreatmentState::planned);
    REQUIRE(plan.treatments[1].state == TreatmentState::unweighable);
    REQUIRE(alone.mixes.size() == 1);
    REQUIRE(plan.mixes.size() == 1);
    CHECK(plan.mixes[0].mass_mg == alone.mixes[0].mass_mg);
    CHECK(plan.mixes[0].taken_mg == alone.mixes[0].taken_mg);
    CHECK(plan.mixes[0].batch_codes == alone.mixes[0].batch_codes);
    CHECK(plan.treatments[0].weighings.size() == alone.treatments[0].weighings.size());
  }

  TEST_CASE("a balance fine enough draws no warning and no mix") {
    const TrialPlan plan = plan_trial(Trial(small_trial({recipe(400, 2)})));
    CHECK(plan.mixes.empty());
    for (const auto& note : plan.treatments.front().notes) CHECK(note.level != NoteLevel::warning);
  }
}
