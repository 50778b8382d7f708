#include <leastwise/trial_factorial.hpp>
#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <numeric>
#include <set>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

TreatmentDraft control() {
  TreatmentDraft treatment;
  treatment.name = "control";
  return treatment;
}

}  // namespace

TEST_SUITE("plan") {
  TEST_CASE("a control has plots and labels but nothing to weigh or buy") {
    const TrialPlan plan = plan_trial(Trial(small_trial({control()})));
    CHECK(plan.plots.size() == 4);
    CHECK(plan.treatments[0].state == TreatmentState::nothing);
    CHECK(plan.treatments[0].batch_codes.empty());
    CHECK(plan.plots[0].packs.empty());
    CHECK(plan.purchases.empty());
    CHECK(plan.complete());
  }

  TEST_CASE(
      "an infeasible treatment keeps its plots, names its conflict, and spoils nothing else") {
    ScenarioDraft impossible = starter();
    Limits little;
    little.max = 50;
    impossible.total_kg_per_ha = little;
    const TrialPlan plan =
        plan_trial(Trial(small_trial({solved("good", starter()), solved("bad", impossible)})));
    CHECK(!plan.complete());
    CHECK(plan.plots.size() == 8);
    CHECK(plan.treatments[0].state == TreatmentState::planned);
    REQUIRE(plan.treatments[1].state == TreatmentState::infeasible);
    const Conflict* conflict = plan.treatments[1].answer->conflict();
    REQUIRE(conflict != nullptr);
    CHECK(!conflict->rules.empty());
    CHECK(!conflict->nearest.empty());
  }

  TEST_CASE("packs are filled from the loads in turn, the same share of every load") {
    TrialDraft draft = small_trial({recipe(300, 0)});
    draft.sites[0].replicates =
        5;  // 5 plots of 0.6 kg; two loads of whole plots would waste a fifth
    draft.mixers = {{"jar", MixerKind::bucket, 1.9, {}}};
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.treatments[0].batch_codes.size() == 2);  // each gives 1.5 kg
    std::vector<std::pair<std::size_t, std::size_t>> loads;
    for (const auto& plot : plan.plots) {
      loads.emplace_back(plot.packs[0].first_load, plot.packs[0].last_load);
    }
    CHECK(loads ==
          std::vector<std::pair<std::size_t, std::size_t>>{{0, 0}, {0, 0}, {0, 1}, {1, 1}, {1, 1}});
    CHECK(plan.plots[2].packs[0].sources[0].mass_mg == 300'000);
    CHECK(plan.plots[2].packs[0].sources[1].mass_mg == 300'000);
  }

  TEST_CASE("achieved rates are what the rounded load brings to the plots") {
    const TrialPlan plan = plan_trial(Trial(small_trial({solved("starter", starter())})));
    const TreatmentPlan& t = plan.treatments[0];
    const double area_ha = 80.0 / 10000;
    double zinc_kg = 0;  // zinc oxide of 97 % purity: 65.38 / 81.379 of it is zinc
    for (const auto& weighing : t.weighings) {
      if (weighing.material == "zinc-oxide") {
        zinc_kg = static_cast<double>(weighing.mass_mg) / 1e6 * 0.97 * 65.38 / 81.379;
      }
    }
    const double share = static_cast<double>(t.packs_mg) / static_cast<double>(t.load_mg);
    for (const auto& nutrient : t.nutrients) {
      if (nutrient.nutrient != "Zn") continue;
      CHECK(nutrient.achieved_kg_per_ha ==
            doctest::Approx(zinc_kg * share / area_ha).epsilon(1e-6));
      CHECK(nutrient.planned_kg_per_ha == doctest::Approx(1.0));
    }
  }

  TEST_CASE("what is bought is what is weighed, in whole bags, and what is left over") {
    TrialDraft draft = small_trial({solved("starter", starter())});
    draft.bags = {{"default", 25}, {"zinc-oxide", 0.5}};
    draft.spare_percent = 10;
    const TrialPlan plan = plan_trial(Trial(draft));
    std::int64_t all = 0;
    for (const auto& purchase : plan.purchases) {
      const std::int64_t needed = purchase.need_mg + purchase.spare_mg;
      all += needed;
      CHECK(purchase.bought_kg == doctest::Approx(static_cast<double>(purchase.bags) *
                                                  (purchase.material == "zinc-oxide" ? 0.5 : 25)));
      CHECK(purchase.left_over_kg ==
            doctest::Approx(purchase.bought_kg - static_cast<double>(needed) / 1e6));
      CHECK(purchase.cost == doctest::Approx(purchase.bought_kg * purchase.price_per_t / 1000));
    }
    CHECK(all == plan.treatments[0].total_mg);
  }

  TEST_CASE("a product in the per-tonne form is spread at the rate the treatment says") {
    ScenarioDraft grade;
    grade.materials = starter().materials;
    Limits n;
    n.min = n.max = 20;
    grade.grade_percent = {{"N", n}};
    TreatmentDraft treatment = solved("20 N", grade);
    treatment.product_kg_per_ha = 250;
    const TrialPlan plan = plan_trial(Trial(small_trial({treatment})));
    CHECK(plan.treatments[0].product_kg_per_ha == doctest::Approx(250));
    CHECK(plan.treatments[0].packs_mg == 2'000'000);  // 250 kg/ha on 80 m2
  }

  TEST_CASE("three rates of N by with and without Zn make six treatments") {
    const Factor n{"N", {{30, 30}, {60, 60}, {90, 90}}};
    const Factor zn{"Zn", {{0, 0}, {1, 1}}};
    const auto cells = factorial_cells(std::vector<Factor>{n, zn});
    REQUIRE(cells.size() == 6);
    CHECK(cells[0].name == "N30 Zn0");
    CHECK(cells[1].name == "N30 Zn1");
    CHECK(cells[5].name == "N90 Zn1");
    ScenarioDraft draft = starter();
    set_rates(draft, cells[5]);
    CHECK(draft.rates_kg_per_ha.size() == 5);
    CHECK(draft.rates_kg_per_ha[0].limits == Limits{90, 90});
  }

  TEST_CASE("notes that every product carries are said once") {
    const TrialPlan plan =
        plan_trial(Trial(small_trial({solved("one", starter()), solved("two", starter())})));
    std::multiset<std::string> texts;
    for (const auto& note : plan.notes) texts.insert(note.text);
    for (const auto& treatment : plan.treatments) {
      for (const auto& note : treatment.notes) CHECK(texts.count(note.text) == 0);
    }
  }

  TEST_CASE("a search that is out of time leaves its treatment without product") {
    SolveOptions options;
    options.time_limit = std::chrono::duration<double>(1e-9);
    const TrialPlan plan = plan_trial(Trial(small_trial({solved("late", starter())})), options);
    CHECK(plan.treatments[0].state == TreatmentState::stopped);
    CHECK(!plan.complete());
  }
}
