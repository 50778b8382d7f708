#include <leastwise/trial_check.hpp>
#include <leastwise/trial_load.hpp>
#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <map>
#include <string>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

TrialDraft two_rounds(std::vector<TreatmentDraft> treatments) {
  TrialDraft draft = small_trial(std::move(treatments));
  draft.applications = {{"planting", "2026-04-20", ""}, {"six leaves", "2026-06-01", "V6"}};
  return draft;
}

/// N 60, P2O5 40, K2O 24, all exactly, Zn at most 0.2.
ScenarioDraft exact_rates() {
  ScenarioDraft draft = starter();
  draft.rates_kg_per_ha = {{"N", {60, 60}}, {"P2O5", {40, 40}}, {"K2O", {24, 24}}};
  Limits traces;
  traces.max = 0.2;
  draft.rates_kg_per_ha.push_back({"Zn", traces});
  return draft;
}

double planned(const TreatmentPlan& plan, const std::string& nutrient) {
  for (const auto& check : plan.nutrients)
    if (check.nutrient == nutrient) return check.planned_kg_per_ha;
  return 0;
}

const TotalNutrient& total_of(const TreatmentTotal& total, const std::string& nutrient) {
  return *std::ranges::find(total.nutrients, nutrient, &TotalNutrient::nutrient);
}

}  // namespace

TEST_SUITE("applications") {
  TEST_CASE("shares of a nutrient are recipes of their own that add up to what is asked") {
    TreatmentDraft split = solved("split", exact_rates());
    split.split_percent = {{"N", {{"planting", 40}, {"six leaves", 60}}}};
    const TrialPlan plan = plan_trial(Trial(two_rounds({solved("once", exact_rates()), split})));
    REQUIRE(plan.complete());
    REQUIRE(plan.treatments.size() == 3);
    CHECK(plan.treatments[1].code == "T2-A1");
    CHECK(plan.treatments[2].name == "split, six leaves");
    CHECK(planned(plan.treatments[1], "N") == doctest::Approx(24));
    CHECK(planned(plan.treatments[1], "P2O5") == doctest::Approx(40));
    CHECK(planned(plan.treatments[2], "N") == doctest::Approx(36));
    CHECK(planned(plan.treatments[2], "P2O5") == doctest::Approx(0));
    REQUIRE(plan.totals.size() == 2);
    CHECK(total_of(plan.totals[1], "N").planned_kg_per_ha == doctest::Approx(60));
    CHECK(total_of(plan.totals[1], "N").achieved_kg_per_ha == doctest::Approx(60).epsilon(0.01));
    CHECK(total_of(plan.totals[1], "K2O").planned_kg_per_ha == doctest::Approx(24));
    CHECK(total_of(plan.totals[1], "N").asked_kg_per_ha.min == 60);
    CHECK(plan.treatments[2].batch_codes == std::vector<std::string>{"ST-T2-A2-B1"});
    CHECK(plan.treatments[2].spread_by >= "2026-06-01");
  }

  TEST_CASE("a plot stands once for each application, with the same code and labels of its own") {
    TreatmentDraft split = solved("split", exact_rates());
    split.split_percent = {{"product", {{"planting", 25}, {"six leaves", 75}}}};
    const TrialPlan plan = plan_trial(Trial(two_rounds({solved("once", exact_rates()), split})));
    std::map<std::string, std::int64_t> grams_of_round;
    std::size_t stakes = 0;
    for (const auto& plot : plan.plots) {
      stakes += plot.again ? 0U : 1U;
      for (const auto& pack : plot.packs) {
        const std::string end = plot.application == 0 ? "-A1" : "-A2";
        CHECK(pack.label == plot.code + end);
        if (plan.treatments[plot.treatment].treatment == "split")
          grams_of_round[end] += pack.mass_mg;
      }
    }
    CHECK(stakes == 8);
    CHECK(plan.plots.size() == 12);
    CHECK(static_cast<double>(grams_of_round["-A2"]) ==
          doctest::Approx(3.0 * static_cast<double>(grams_of_round["-A1"])).epsilon(0.001));
  }

  TEST_CASE("everything at a later application is one product, with the plain code") {
    TreatmentDraft late = solved("late", exact_rates());
    late.split_percent = {{"product", {{"six leaves", 100}}}};
    const TrialPlan plan = plan_trial(Trial(two_rounds({late})));
    REQUIRE(plan.treatments.size() == 1);
    CHECK(plan.treatments[0].code == "T1");
    CHECK(plan.treatments[0].application == 1);
    CHECK(plan.plots.front().application == 1);
    CHECK_FALSE(plan.plots.front().again);
  }

  TEST_CASE("materials of a fixed recipe go out when it says") {
    TreatmentDraft fixed = recipe(200, 0);
    fixed.split_percent = {{"base", {{"planting", 30}, {"six leaves", 70}}}};
    const TrialPlan plan = plan_trial(Trial(two_rounds({fixed})));
    REQUIRE(plan.treatments.size() == 2);
    CHECK(plan.treatments[0].product_kg_per_ha == doctest::Approx(60));
    CHECK(plan.treatments[1].product_kg_per_ha == doctest::Approx(140));
  }

  TEST_CASE("hold makes the totals equal, whatever the timing") {
    ScenarioDraft open = exact_rates();
    open.rates_kg_per_ha[2].limits = Limits{24, 60};  // K2O
    ScenarioDraft more = exact_rates();
    more.rates_kg_per_ha[2].limits = Limits{40, 60};
    TreatmentDraft split = solved("split", more);
    split.split_percent = {{"K2O", {{"planting", 50}, {"six leaves", 50}}}};
    TrialDraft draft = two_rounds({solved("once", open), split});
    draft.hold = Hold{{"K2O"}, false, false};
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.hold);
    REQUIRE(plan.hold->status == Status::optimal);
    CHECK(total_of(plan.totals[0], "K2O").planned_kg_per_ha == doctest::Approx(40));
    CHECK(total_of(plan.totals[1], "K2O").planned_kg_per_ha == doctest::Approx(40));
  }

  TEST_CASE("applications have days of their own and take from one stock mix") {
    ScenarioDraft little = exact_rates();
    little.rates_kg_per_ha[3] = {"Zn", {0.4, 0.4}};
    TreatmentDraft split = solved("split", little);
    split.split_percent = {{"product", {{"planting", 50}, {"six leaves", 50}}}};
    TrialDraft draft = two_rounds({split});
    draft.sites[0].plot_area_m2 = 5;
    draft.balances = {{"pocket", 0.5, 0.01}, {"bench", 6, 0.1}};
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.complete());
    // What is left over from planting serves at six leaves: one mix, of twice what a load takes.
    REQUIRE(plan.mixes.size() == 1);
    CHECK(plan.mixes[0].application == 0);
    CHECK(plan.mixes[0].batch_codes.size() == 2);
    CHECK(to_text(plan).find("Loads of a later application take from it too") != std::string::npos);
    int days = 0;
    for (std::size_t i = 0; i < plan.day_plan.size(); ++i)
      days += plan.day_plan[i].ends_after == plan.day_plan[i].minutes ? 1 : 0;
    CHECK(days == 2);  // the clock starts twice
  }

  TEST_CASE("what was weighed for one application is applied on its plots alone") {
    TreatmentDraft split = solved("split", exact_rates());
    split.split_percent = {{"N", {{"planting", 40}, {"six leaves", 60}}}};
    const Trial trial(two_rounds({split}));
    const TrialPlan plan = plan_trial(trial);
    std::vector<Weighed> list;
    for (const auto& weighing : plan.treatments[1].weighings)
      list.push_back({plan.treatments[1].batch_codes[0],
                      weighing.material,
                      static_cast<double>(weighing.mass_mg) / 1000,
                      {},
                      "L1",
                      "ab",
                      ""});
    const WeighedCheck check = check_weighed(trial, plan, list);
    CHECK(check.verdict != Verdict::broken);
    for (const auto& applied : check.applied)
      CHECK(applied.known == (plan.plots[applied.plot].application == 1));
  }
}

TEST_SUITE("strips") {
  TEST_CASE("headlands and border are counted in the product, and lie round the plots") {
    TrialDraft draft = small_trial({recipe(100, 0)});
    SiteDraft& site = draft.sites[0];
    site.plot_area_m2.reset();
    site.plot_length_m = 10;
    site.plot_width_m = 3;
    site.replicates = 4;
    site.field.block_columns = 1;
    site.field.columns = 4;
    site.field.headland_m = 5;
    site.field.headland_treatment = "recipe";
    site.field.border_m = 2;
    site.field.border_treatment = "recipe";
    const TrialPlan plan = plan_trial(Trial(draft));
    std::map<std::string, double> area;
    for (const auto& plot : plan.plots) area[plot.code] += plot.area_m2;
    // 4 plots of 3 m side by side: headlands 12 m x 5 m; round 12 m x 20 m: 2 x 2 x (12 + 20 + 4).
    CHECK(area["ST-H-H1"] == doctest::Approx(60));
    CHECK(area["ST-H-H2"] == doctest::Approx(60));
    CHECK(area["ST-H-E1"] == doctest::Approx(144));
    CHECK(plan.treatments[0].area_m2 == doctest::Approx(4 * 30 + 2 * 60 + 144));
    CHECK(plan.treatments[0].packs_mg == 3840 * 1000);  // 100 kg/ha on 384 m2
    const std::string html = to_html(plan, PlanPart::everything);
    CHECK(html.find("headland 5 m, H1 T1") != std::string::npos);
    const std::string stakes = to_csv(plan, PlanList::stakes);
    CHECK(stakes.find("ST-H-H1") == std::string::npos);
  }
}

TEST_SUITE("sources") {
  TEST_CASE("a factor may be a form, a source, a rate of the product") {
    const Trial trial = parse_trial(R"(leastwise: 1
base:
  materials:
    urea: {price_per_t: 450}
    map: {price_per_t: 690}
    zinc-oxide: {price_per_t: 3200}
    granule: {form: granule, contains_percent: {Zn: 20}, price_per_t: 1500}
  rates_kg_per_ha: {N: {exactly: 40}, P2O5: {exactly: 20}}
  blend: {granular_micronutrient_factor: {Zn: 1}}
factorial:
  form:
    coated: {form_of: {Zn: coated}}
    granular: {form_of: {Zn: granular}}
  Zn: [1, 2]
sites: {Hill: {plot_area_m2: 100}}
equipment:
  mixers: {drum: {kind: drum, capacity_kg: 60}}
  balances: {bench: {capacity_kg: 6, readability_g: 0.01}}
)");
    const TrialPlan plan = plan_trial(trial);
    REQUIRE(plan.complete());
    REQUIRE(plan.treatments.size() == 4);
    CHECK(plan.treatments[1].name == "coated Zn2");
    CHECK(plan.treatments[2].name == "granular Zn1");
    const auto has = [&](std::size_t t, const std::string& material) {
      return std::ranges::any_of(plan.treatments[t].recipe.lines,
                                 [&](const RecipeLine& line) { return line.material == material; });
    };
    CHECK(has(0, "zinc-oxide"));
    CHECK_FALSE(has(0, "granule"));
    CHECK(has(3, "granule"));
    CHECK_FALSE(has(3, "zinc-oxide"));
    CHECK(planned(plan.treatments[3], "Zn") == doctest::Approx(2));
  }

  TEST_CASE("what is left out and cannot be done without is named") {
    TreatmentDraft none = solved("none", starter());
    none.without = {"zinc-oxide"};
    const TrialPlan plan = plan_trial(Trial(small_trial({none})));
    REQUIRE(plan.treatments[0].answer);
    REQUIRE(plan.treatments[0].answer->conflict() != nullptr);
    CHECK(to_text(*plan.treatments[0].answer).find("zinc-oxide") != std::string::npos);
  }
}
