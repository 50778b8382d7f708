#include <leastwise/trial_check.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <algorithm>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

std::vector<Weighed> as_weighed(const TrialPlan& plan) {
  std::vector<Weighed> weighed;
  for (const auto& mix : plan.mixes)
    for (const auto& step : mix.steps)
      for (const auto& w : step.weighings)
        weighed.push_back({step.batch_code, w.material, static_cast<double>(w.mass_mg) / 1000, {}});
  for (const auto& treatment : plan.treatments)
    for (const auto& code : treatment.batch_codes)
      for (const auto& w : treatment.weighings)
        weighed.push_back({code, w.material, static_cast<double>(w.mass_mg) / 1000, {}});
  return weighed;
}

Weighed& line_of(std::vector<Weighed>& weighed, std::string_view batch, std::string_view material) {
  return *std::ranges::find_if(weighed, [&](const Weighed& line) {
    return line.batch == batch && line.material == material;
  });
}

const AppliedNutrient& nutrient_of(const AppliedPlot& plot, std::string_view name) {
  return *std::ranges::find(plot.nutrients, name, &AppliedNutrient::nutrient);
}

}  // namespace

TEST_SUITE("what came of it") {
  TEST_CASE(
      "2 g too much boric acid: everything else grows by the same share, and all holds again") {
    const Trial trial(small_trial({solved("starter", starter())}));
    const TrialPlan plan = plan_trial(trial);
    auto less = as_weighed(plan);
    const double planned = line_of(less, "ST-T1-B1", "boric-acid").mass_g;
    line_of(less, "ST-T1-B1", "boric-acid").mass_g = planned * 0.8;
    const auto short_of = check_weighed(trial, plan, less);
    REQUIRE(short_of.batches[0].verdict == Verdict::broken);
    REQUIRE(short_of.batches[0].rescue);
    const Rescue& rescue = *short_of.batches[0].rescue;
    REQUIRE(rescue.possible);
    REQUIRE(rescue.additions.size() == 1);
    CHECK(rescue.additions[0].material == "boric-acid");
    CHECK(static_cast<double>(rescue.additions[0].mass_mg) / 1000 ==
          doctest::Approx(planned * 0.2).epsilon(0.01));
    CHECK(to_text(short_of).find("Before any of it is packed: add ") != std::string::npos);
  }

  TEST_CASE("too much of one thing takes more of all others") {
    const Trial trial(small_trial({solved("starter", starter())}));
    const TrialPlan plan = plan_trial(trial);
    auto weighed = as_weighed(plan);
    Weighed& boron = line_of(weighed, "ST-T1-B1", "boric-acid");
    const double growth = 1.2;
    boron.mass_g *= growth;
    line_of(weighed, "ST-T1-B1", "zinc-oxide").mass_g *= 0.9;
    const auto check = check_weighed(trial, plan, weighed);
    REQUIRE(check.batches[0].rescue);
    const Rescue& rescue = *check.batches[0].rescue;
    REQUIRE(rescue.possible);
    CHECK(rescue.additions.size() == plan.treatments[0].weighings.size() - 1);
    CHECK(rescue.load_g ==
          doctest::Approx(growth * static_cast<double>(plan.treatments[0].load_mg) / 1000)
              .epsilon(0.001));
    boron.mass_g *= 2;
    const auto hopeless = check_weighed(trial, plan, weighed);
    REQUIRE(hopeless.batches[0].rescue);
    CHECK(!hopeless.batches[0].rescue->possible);
    CHECK(hopeless.batches[0].rescue->text.find("discard this batch") == 0);
  }

  TEST_CASE("each plot gets what its batches hold, by hand") {
    TrialDraft draft = small_trial({recipe(300, 2)});
    draft.mixers = {{"jar", MixerKind::bucket, 1.3, {}}};
    const Trial trial(draft);
    const TrialPlan plan = plan_trial(trial);
    REQUIRE(plan.treatments[0].batch_codes.size() == 2);
    auto weighed = as_weighed(plan);
    line_of(weighed, "ST-T1-B2", "powder").mass_g *= 1.1;
    line_of(weighed, "ST-T1-B2", "powder").lot = "L7";
    const auto check = check_weighed(trial, plan, weighed);
    REQUIRE(check.applied.size() == 4);
    const AppliedPlot& first = check.applied[0];
    const AppliedPlot& last = check.applied[3];
    CHECK(first.batches == std::vector<std::string>{"ST-T1-B1"});
    CHECK(last.batches == std::vector<std::string>{"ST-T1-B2"});
    CHECK(last.lots == std::vector<std::string>{"powder L7"});
    CHECK(nutrient_of(first, "Zn").applied_kg_per_ha.value() == doctest::Approx(1.0).epsilon(0.01));
    // 10 % more powder in a load that is 0.07 % heavier for it.
    CHECK(nutrient_of(last, "Zn").applied_kg_per_ha.value() == doctest::Approx(1.1).epsilon(0.01));
    CHECK(nutrient_of(last, "Zn").deviation_percent.value() == doctest::Approx(10).epsilon(0.05));
    const std::string csv = to_csv(check, plan, CheckList::applied);
    CHECK(csv.find("plot_code,site_code,site,replicate,plot,") == 0);
    CHECK(std::ranges::count(csv, '\n') ==
          static_cast<std::ptrdiff_t>(1 + 4 * check.applied[0].nutrients.size()));
  }

  TEST_CASE("a plot of a batch that was not weighed is not known, a control is") {
    TreatmentDraft control;
    control.name = "control";
    const Trial trial(small_trial({control, recipe(300, 2), solved("starter", starter())}));
    const TrialPlan plan = plan_trial(trial);
    auto weighed = as_weighed(plan);
    std::erase_if(weighed, [](const Weighed& line) { return line.batch == "ST-T3-B1"; });
    const auto check = check_weighed(trial, plan, weighed);
    for (const auto& plot : check.applied) {
      const auto treatment = plan.plots[plot.plot].treatment;
      CHECK(plot.known == (treatment != 2));
      for (const auto& nutrient : plot.nutrients) {
        CHECK(nutrient.applied_kg_per_ha.has_value() == plot.known);
        if (treatment == 0) CHECK(nutrient.applied_kg_per_ha.value() == 0);
      }
    }
  }

  TEST_CASE("the rows of a stock mix are read, and what was really in it counts") {
    TrialDraft draft = small_trial({recipe(400, 0.2)});
    draft.balances = {{"bench", 6, 0.1}};
    const Trial trial(draft);
    const TrialPlan plan = plan_trial(trial);
    REQUIRE(plan.mixes.size() == 1);
    auto weighed = as_weighed(plan);
    const auto as_planned = check_weighed(trial, plan, weighed);
    CHECK(as_planned.mixes.size() == 1);
    const double before =
        nutrient_of(as_planned.applied.front(), "Zn").applied_kg_per_ha.value_or(0);
    CHECK(before == doctest::Approx(0.1).epsilon(0.02));
    line_of(weighed, "ST-MIX1", "powder").mass_g *= 0.5;
    const auto halved = check_weighed(trial, plan, weighed);
    const double fraction = plan.mixes[0].parts[0].fraction;
    CHECK(nutrient_of(halved.applied.front(), "Zn").applied_kg_per_ha.value_or(0) ==
          doctest::Approx(before * 0.5 / (1 - fraction / 2)).epsilon(1e-6));
  }

  TEST_CASE("a list of another plan is refused at its line") {
    const Trial trial(small_trial({recipe(300, 2)}));
    const TrialPlan plan = plan_trial(trial);
    auto weighed = as_weighed(plan);
    weighed[1].plan = "00000000";
    weighed[1].place = {"list.csv", 3, 1, 1};
    try {
      (void)check_weighed(trial, plan, weighed);
      FAIL("accepted");
    } catch (const InputError& error) {
      CHECK(error.diagnostics().front().code == "other-plan");
      CHECK(error.diagnostics().front().place.line == 3);
    }
    weighed[1].plan = plan.fingerprint;
    CHECK_NOTHROW((void)check_weighed(trial, plan, weighed));
    CHECK(to_csv(plan, PlanList::batches).find(plan.fingerprint) != std::string::npos);
  }

  TEST_CASE("another seed is another plan, another price is not") {
    TrialDraft draft = small_trial({recipe(300, 2), solved("starter", starter())});
    draft.seed = 1;
    const auto one = plan_trial(Trial(draft)).fingerprint;
    draft.seed = 2;
    CHECK(plan_trial(Trial(draft)).fingerprint != one);
    draft.seed = 1;
    draft.title = "another title";
    CHECK(plan_trial(Trial(draft)).fingerprint == one);
  }

  TEST_CASE("semicolons and decimal commas are read, lots and initials kept") {
    const auto lines =
        parse_weighed("batch;material;actual_g;lot;initials\nA-T1-B1;urea;12,5;L1;me\n");
    REQUIRE(lines.size() == 1);
    CHECK(lines[0].mass_g == doctest::Approx(12.5));
    CHECK(lines[0].lot == "L1");
    CHECK(lines[0].initials == "me");
    const auto commas = parse_weighed("batch,material,actual_g,lot\nA,urea,12.5,L;2\n");
    CHECK(commas[0].lot == "L;2");
    CHECK_THROWS_AS((void)parse_weighed("batch;material;actual_g\nA;urea;1.234,5\n"), InputError);
  }
}
