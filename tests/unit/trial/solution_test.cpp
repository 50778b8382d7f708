#include "trial/solution.hpp"

#include <leastwise/trial_check.hpp>
#include <leastwise/trial_load.hpp>
#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "samples.hpp"
#include "trial/solution_steps.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

const std::vector<Balance> scales{{"fine", 0.5, 0.01}, {"bench", 6, 0.1}};

StockMix solution_of(double needed_g, double fraction, double most) {
  StockMix mix;
  mix.code = "solution X-1";
  trial::make_solution(scales, {"salt", needed_g * 1000, fraction, most}, mix);
  return mix;
}

/// N 45, P2O5 40, K2O 24 and 0.04 kg/ha of Mo on four plots of 1.2 square metres: 0.05 g of
/// molybdate in a load of 90 g, which takes more carrier than the granules hold.
TrialDraft micro_plots(const char* source = "sodium-molybdate") {
  ScenarioDraft scenario = starter();
  scenario.materials[3].name = source;
  scenario.materials.pop_back();
  scenario.rates_kg_per_ha.resize(3);
  scenario.rates_kg_per_ha.push_back(source == std::string("zinc-oxide")
                                         ? TargetDraft{"Zn", {0.05, 0.05}}
                                         : TargetDraft{"Mo", {0.04, 0.04}});
  scenario.coating_percent.emplace().max = 0.5;
  TrialDraft draft = small_trial({solved("traces", scenario)});
  draft.sites[0].plot_area_m2 = 1.2;
  draft.balances = scales;
  draft.spare_percent = 10;
  return draft;
}

const NutrientCheck& check_of(const std::vector<NutrientCheck>& checks, const std::string& name) {
  return *std::ranges::find(checks, name, &NutrientCheck::nutrient);
}

std::string code_of(const TrialDraft& draft) {
  try {
    const Trial trial(draft);
  } catch (const InputError& error) {
    return error.diagnostics().front().code;
  }
  return {};
}

}  // namespace

TEST_SUITE("solutions") {
  TEST_CASE("two kg of one part in 1000: 2 g of salt in 1998 g of water") {
    const StockMix mix = solution_of(2000, 0.001, 0.1);
    REQUIRE(mix.steps.size() == 1);
    CHECK(mix.steps[0].weighings[0].mass_mg == 2000);
    CHECK(mix.steps[0].weighings[1].mass_mg == 1'998'000);
    CHECK(mix.steps[0].weighings[1].material == "water");
    CHECK(mix.parts[0].fraction == doctest::Approx(0.001));
    CHECK(mix.solution);
  }

  TEST_CASE("a trace is weighed into a stronger solution first, and that into more water") {
    // 0.05 g are wanted: 0.75 g go in, 75 digits. 0.5 g of the stronger one hold no less than 75
    // digits at one part in 15 of 0.75 g.
    const StockMix mix = solution_of(500, 0.0001, 0.17);
    REQUIRE(mix.steps.size() == 2);
    CHECK(mix.steps[0].weighings[0].mass_mg == 750);
    CHECK(mix.steps[0].weighings[1].mass_mg == 10'500);  // 0.05 / 0.75 is one part in 15
    CHECK(mix.steps[1].weighings[0].material == "solution X-1 step 1");
    CHECK(mix.steps[1].weighings[0].mass_mg == 750);
    CHECK(mix.mass_mg == 500'000);
    CHECK(mix.parts[0].fraction == doctest::Approx(0.0001).epsilon(0.001));
  }

  TEST_CASE("no step is stronger than it may be") {
    for (const double most : {0.002, 0.01, 0.2}) {
      const StockMix mix = solution_of(700, 0.0004, most);
      const auto& first = mix.steps.front();
      const double strong =
          static_cast<double>(first.weighings.front().mass_mg) / static_cast<double>(first.mass_mg);
      CHECK(strong <= most * 1.001);
      CHECK(mix.parts[0].fraction == doctest::Approx(0.0004).epsilon(0.001));
      CHECK(mix.mass_mg >= 700'000);
    }
  }

  TEST_CASE("what no load can hold within its rules is sprayed on, at the rate that was asked") {
    const TrialPlan plan = plan_trial(Trial(micro_plots()));
    const TreatmentPlan& t = plan.treatments.front();
    REQUIRE(t.state == TreatmentState::planned);
    REQUIRE(t.sprays.size() == 1);
    CHECK(t.sprays[0].material == "sodium-molybdate");
    CHECK(t.sprays[0].solution_kg_per_ha == doctest::Approx(500));
    for (const auto& weighing : t.weighings) CHECK(weighing.role == Role::granule);
    CHECK(!t.coating);
    // 500 kg/ha on 1.2 square metres are 60 g.
    for (const auto& plot : plan.plots) {
      REQUIRE(plot.sprays.size() == 1);
      CHECK(plot.sprays[0].mass_mg == 60'000);
    }
    const NutrientCheck& mo = check_of(t.nutrients, "Mo");
    CHECK(mo.achieved_kg_per_ha == doctest::Approx(0.04).epsilon(0.002));
    CHECK(mo.sprayed_kg_per_ha == mo.achieved_kg_per_ha);
    CHECK(check_of(t.nutrients, "N").sprayed_kg_per_ha == 0);
    for (const auto& rule : t.rules) CHECK(rule.verdict != Verdict::broken);
    REQUIRE(plan.mixes.size() == 1);
    CHECK(plan.mixes[0].code == "solution Mo-1");
    CHECK(plan.mixes[0].taken_mg == 240'000);
    CHECK(std::ranges::any_of(plan.notes, [](const Note& note) {
      return note.code == NoteCode::sprayed_on && note.level == NoteLevel::warning;
    }));
    const auto bought = std::ranges::find(plan.purchases, "sodium-molybdate", &Purchase::material);
    REQUIRE(bought != plan.purchases.end());
    CHECK(bought->need_mg + bought->mix_rest_mg == plan.mixes[0].parts[0].weighed_mg);
    CHECK(std::ranges::find(plan.purchases, "water", &Purchase::material) == plan.purchases.end());
  }

  TEST_CASE("every report says what is sprayed") {
    const TrialPlan plan = plan_trial(Trial(micro_plots()));
    const std::string text = to_text(plan);
    CHECK(text.find("Solution Mo-1\n") != std::string::npos);
    CHECK(text.find("Spray solution Mo-1 on every plot beside this") != std::string::npos);
    CHECK(text.find("no oil") != std::string::npos);
    CHECK(to_csv(plan, PlanList::plots).find(",solution Mo-1,60\n") != std::string::npos);
    CHECK(to_csv(plan, PlanList::recipes).find(",sodium-molybdate,dissolved,") !=
          std::string::npos);
    CHECK(to_csv(plan, PlanList::batches).find(",solution Mo-1,water,carrier,") !=
          std::string::npos);
    const std::string json = to_json(plan);
    CHECK(json.find("\"solution\": true") != std::string::npos);
    CHECK(json.find("\"sprayed_kg_per_ha\"") != std::string::npos);
    const std::string html = to_html(plan);
    CHECK(html.find("Spray on each plot") != std::string::npos);
    CHECK(html.find("Then spray 60.00 g of solution Mo-1") != std::string::npos);
  }

  TEST_CASE("solutions: false, and what no table knows to dissolve, leave the treatment unmade") {
    TrialDraft never = micro_plots();
    never.solutions.allowed = false;
    const TrialPlan refused = plan_trial(Trial(never));
    CHECK(refused.treatments[0].state == TreatmentState::unweighable);
    CHECK(refused.treatments[0].sprays.empty());
    CHECK(to_text(refused).find("solutions: false") != std::string::npos);

    const TrialPlan unknown = plan_trial(Trial(micro_plots("zinc-oxide")));
    CHECK(unknown.treatments[0].state == TreatmentState::unweighable);
    CHECK(to_text(unknown).find("'zinc-oxide' is not sprayed on instead") != std::string::npos);
    CHECK(!unknown.complete());
    for (const auto& plot : unknown.plots) CHECK(plot.sprays.empty());

    TrialDraft stated = micro_plots("zinc-oxide");
    stated.solutions.solubility_g_per_l = {{"zinc-oxide", 40}};
    CHECK(plan_trial(Trial(stated)).treatments[0].state == TreatmentState::planned);
    stated.solutions.solubility_g_per_l = {{"zinc-oxide", 0.1}};
    const TrialPlan hardly = plan_trial(Trial(stated));
    CHECK(hardly.treatments[0].state == TreatmentState::unweighable);
    CHECK(to_text(hardly).find("allow more litres_per_ha") != std::string::npos);
  }

  TEST_CASE("small plots get more solution, so that each share can be weighed") {
    TrialDraft draft = micro_plots();
    draft.sites[0].plot_area_m2 = 0.012;  // a pot: 0.6 g at 500 kg/ha
    draft.treatments[0].scenario = Scenario([&] {
      ScenarioDraft scenario = draft.treatments[0].scenario->draft();
      scenario.rates_kg_per_ha[0].limits = Limits{45, 60};
      return scenario;
    }());
    draft.balances = {{"fine", 0.5, 0.001}};
    draft.solutions.litres_per_ha = 10;
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.treatments[0].sprays.size() == 1);
    // 75 mg on 0.012 square metres are 62.5 kg/ha.
    CHECK(plan.treatments[0].sprays[0].solution_kg_per_ha == doctest::Approx(62.5));
    CHECK(plan.plots[0].sprays[0].mass_mg == 75);
  }

  TEST_CASE("treatments that take the same powder at the same rate share a solution") {
    TrialDraft draft = micro_plots();
    TreatmentDraft twin = draft.treatments[0];
    twin.name = "twin";
    TreatmentDraft twice = draft.treatments[0];
    twice.name = "twice";
    ScenarioDraft more = twice.scenario->draft();
    more.rates_kg_per_ha[3].limits = Limits{0.08, 0.08};
    twice.scenario = Scenario(more);
    draft.treatments.push_back(twin);
    draft.treatments.push_back(twice);
    const TrialPlan plan = plan_trial(Trial(draft));
    REQUIRE(plan.mixes.size() == 2);
    CHECK(plan.treatments[0].sprays[0].mix == plan.treatments[1].sprays[0].mix);
    CHECK(plan.treatments[2].sprays[0].mix != plan.treatments[0].sprays[0].mix);
    CHECK(plan.mixes[1].parts[0].fraction ==
          doctest::Approx(2 * plan.mixes[0].parts[0].fraction).epsilon(0.002));
  }

  TEST_CASE("a slip in the solution is found in each batch and on each plot") {
    const Trial trial(micro_plots());
    const TrialPlan plan = plan_trial(trial);
    std::vector<Weighed> list;
    for (const auto& step : plan.mixes[0].steps)
      for (const auto& row : step.weighings)
        list.push_back({step.batch_code,
                        row.material,
                        static_cast<double>(row.mass_mg) / 1000,
                        {},
                        "",
                        "",
                        ""});
    for (const auto& row : plan.treatments[0].weighings)
      list.push_back({plan.treatments[0].batch_codes[0],
                      row.material,
                      static_cast<double>(row.mass_mg) / 1000,
                      {},
                      "",
                      "",
                      ""});
    const WeighedCheck right = check_weighed(trial, plan, list);
    CHECK(right.verdict != Verdict::broken);
    const auto& applied = right.applied.front().nutrients;
    const auto mo = std::ranges::find(applied, "Mo", &AppliedNutrient::nutrient);
    REQUIRE(mo != applied.end());
    CHECK(mo->applied_kg_per_ha.value_or(0) == doctest::Approx(0.04).epsilon(0.002));
    list.front().mass_g *= 1.1;
    const WeighedCheck slipped = check_weighed(trial, plan, list);
    CHECK(slipped.verdict == Verdict::broken);
    const auto& more = slipped.applied.front().nutrients;
    CHECK(
        std::ranges::find(more, "Mo", &AppliedNutrient::nutrient)->applied_kg_per_ha.value_or(0) ==
        doctest::Approx(0.0437).epsilon(0.005));
  }

  TEST_CASE("the rules on a sheet count what is sprayed on") {
    const TrialPlan plan = plan_trial(Trial(micro_plots()));
    const TreatmentPlan& t = plan.treatments[0];
    for (const auto& rule : t.load_rules) {
      double of = 0;
      double to = 0;
      for (std::size_t k = 0; k < t.weighings.size(); ++k) {
        of += rule.of[k] * static_cast<double>(t.weighings[k].mass_mg);
        to += rule.to[k] * static_cast<double>(t.weighings[k].mass_mg);
      }
      CAPTURE(rule.rule);
      if (rule.rule == "rate Mo exactly") CHECK(of / to == doctest::Approx(0.04).epsilon(0.002));
    }
  }

  TEST_CASE("what cannot be a solubility is refused") {
    const auto with = [](std::string name, double g_per_l) {
      TrialDraft draft = micro_plots();
      draft.solutions.solubility_g_per_l = {{std::move(name), g_per_l}};
      return code_of(draft);
    };
    CHECK(with("sodium-molybdate", 400).empty());
    CHECK(with("sodium-molybdat", 400) == "unknown-material");
    CHECK(with("sodium-molybdate", 0) == "out-of-range");
    CHECK(with("urea", 900) == "unfit-solution");
    TrialDraft thin = micro_plots();
    thin.solutions.litres_per_ha = 1;
    CHECK(code_of(thin) == "out-of-range");
  }
}
