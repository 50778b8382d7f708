#include <leastwise/trial_check.hpp>
#include <leastwise/trial_report.hpp>

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "samples.hpp"
#include "trial/achieved.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

MaterialDraft granule(const std::string& name, std::vector<Content> contents) {
  MaterialDraft material;
  material.name = name;
  material.form = Form::granule;
  material.contains_percent = std::move(contents);
  material.price_per_t = 400;
  return material;
}

/// 60 kg of N per hectare from one granule of 46 % N, in 19 lots of 20: its analysis is off by one
/// percentage point from lot to lot.
ScenarioDraft sure_nitrogen() {
  ScenarioDraft draft;
  draft.title = "Sure";
  auto white = granule("white", {{"N", 46}, {"N-urea", 46}});
  white.spread_percent = {{"N", 1}};
  draft.materials = {white};
  draft.rates_kg_per_ha = {{"N", {.min = 60}, 0.95}};
  return draft;
}

/// Two granules in 4 : 1, 100 kg/ha in all.
ScenarioDraft two_granules() {
  ScenarioDraft draft;
  draft.title = "Two";
  draft.materials = {granule("white", {{"N", 46}, {"N-urea", 46}}), granule("grey", {{"K2O", 60}})};
  draft.rates_kg_per_ha = {{"N", {.min = 1}}};
  return draft;
}

/// The check of one rule where 80 kg of white and 20 kg of grey are spread on a hectare.
RuleCheck check_of(const ScenarioDraft& draft, const std::string& rule, double kg_per_ha = 100) {
  const Scenario scenario(draft);
  const auto checks = trial::rule_checks(scenario, {{80, 20}, 0}, kg_per_ha, false);
  for (const auto& check : checks)
    if (check.rule == rule) return check;
  FAIL("no such rule: ", rule);
  return {};
}

}  // namespace

TEST_SUITE("rules of a load") {
  // The normal quantile of 0.95 is 1.6449, so 44.3551 % of N is sure, and 60 kg/ha takes 135.27
  // kg/ha. 134.54 kg/ha hold 61.89 kg of N on average, of which 59.68 kg are sure.
  TEST_CASE("a rate with a confidence is broken where the confidence is lost") {
    const Trial trial(small_trial({solved("sure", sure_nitrogen())}));
    const TrialPlan plan = plan_trial(trial);
    const auto& treatment = plan.treatments[0];
    REQUIRE(treatment.weighings.size() == 1);
    const double planned_g = static_cast<double>(treatment.weighings[0].mass_mg) / 1000;
    CHECK(treatment.product_kg_per_ha == doctest::Approx(135.27).epsilon(1e-3));
    const auto check = trial::rule_checks(*trial.treatments()[0].scenario, {{134.54}, 0}, 134.54,
                                          false);
    REQUIRE(check.size() == 1);
    CHECK(check[0].value == doctest::Approx(134.54 * (46 - 1.644854) / 100));
    CHECK(check[0].confidence == 0.95);
    CHECK(check[0].missed_percent == doctest::Approx(100 * (60 - 59.6753) / 60).epsilon(1e-3));
    CHECK(check[0].verdict == Verdict::within_one_percent);
    // By weighing: the same rate with half the material being inert is far off.
    const std::vector<Weighed> weighed{
        {treatment.batch_codes[0], treatment.weighings[0].material, planned_g, {}}};
    const auto whole = check_weighed(trial, plan, weighed);
    CHECK(whole.verdict != Verdict::broken);
    CHECK(to_json(whole).find("\"confidence\": 0.95") != std::string::npos);
  }

  TEST_CASE("a total, a share and a ratio are held against what is spread") {
    auto draft = two_granules();
    draft.total_kg_per_ha = Limits{.max = 90};
    draft.materials[1].share_percent = Limits{.max = 15};
    draft.ratios = {{"N", "K2O", {.min = 4}}};
    const auto total = check_of(draft, "total max");
    CHECK(total.value == doctest::Approx(100));
    CHECK(total.missed_percent == doctest::Approx(100.0 / 9));
    CHECK(total.verdict == Verdict::broken);
    CHECK(check_of(draft, "total max", 90).verdict == Verdict::holds);
    CHECK(check_of(draft, "share grey max").value == doctest::Approx(20));
    CHECK(check_of(draft, "share grey max").verdict == Verdict::broken);
    // 36.8 kg of N to 12 kg of K2O.
    CHECK(check_of(draft, "ratio N:K2O min").value == doctest::Approx(36.8 / 12));
    CHECK(check_of(draft, "ratio N:K2O min").verdict == Verdict::broken);
  }

  TEST_CASE("stock is held against what all the land takes, or all the product") {
    auto draft = two_granules();
    draft.materials[0].stock_kg = 700;
    draft.make_hectares = 10;
    CHECK(check_of(draft, "stock white").value == doctest::Approx(800));
    CHECK(check_of(draft, "stock white").verdict == Verdict::broken);
    CHECK(check_of(draft, "stock white", 80).verdict == Verdict::holds);
    draft.make_hectares.reset();
    draft.make_tonnes = 0.5;
    CHECK(check_of(draft, "stock white").value == doctest::Approx(400));
    CHECK(check_of(draft, "stock white").verdict == Verdict::holds);
  }

  TEST_CASE("bins, families kept apart and a minimum if used are told") {
    auto draft = two_granules();
    draft.bins = 1;
    draft.materials[0].family = "urea";
    draft.materials[1].family = "grey goods";
    draft.incompatible = {{"urea", "grey goods"}};
    draft.materials[1].min_if_used_percent = 25;
    const auto bins = check_of(draft, "bins");
    CHECK(bins.value == 2);
    CHECK(bins.limit == 1);
    CHECK(bins.verdict == Verdict::broken);
    const auto apart = check_of(draft, "apart grey goods / urea");
    CHECK(apart.value == 2);
    CHECK(apart.verdict == Verdict::broken);
    CHECK(check_of(draft, "min if used grey").value == doctest::Approx(20));
    CHECK(check_of(draft, "min if used grey").verdict == Verdict::broken);
  }

  TEST_CASE("a ratio to nothing breaks a maximum and keeps a minimum") {
    auto draft = two_granules();
    draft.ratios = {{"N", "K2O", {.min = 1, .max = 9}}};
    const Scenario scenario(draft);
    const auto checks = trial::rule_checks(scenario, {{80, 0}, 0}, 80, false);
    for (const auto& check : checks) {
      if (check.id.kind != RuleKind::ratio) continue;
      CAPTURE(check.rule);
      CHECK(check.verdict == (check.id.side == RuleSide::max ? Verdict::broken : Verdict::holds));
    }
  }

  // 5 kg of an inert carrier, all in 100 kg/ha: 40 % of the product is grey, 5.26 % coats it.
  TEST_CASE("a carrier that is no material is part of the product and of the coating") {
    auto draft = two_granules();
    MaterialDraft powder = draft.materials[1];
    powder.name = "dust";
    powder.form = Form::powder;
    draft.materials.push_back(powder);
    draft.materials[1].share_percent = Limits{.max = 40};
    trial::Contents contents{{55, 40, 0}, 0};
    contents.inert_kg = 5;
    for (const auto& check : trial::rule_checks(Scenario(draft), contents, 100, false)) {
      CAPTURE(check.rule);
      if (check.rule == "share grey max") CHECK(check.value == doctest::Approx(40));
      if (check.rule == "coating max") CHECK(check.value == doctest::Approx(100 * 5.0 / 95));
      CHECK((check.verdict == Verdict::broken) == (check.rule == "coating max"));
    }
  }

  TEST_CASE("a fixed recipe is held against its coating alone") {
    const Trial trial(small_trial({recipe(100, 3)}));
    const auto& scenario = *trial.treatments()[0].scenario;
    const auto checks = trial::rule_checks(scenario, {{100, 3}, 1.125}, 104.125, true);
    REQUIRE(checks.size() == 1);
    CHECK(checks[0].rule == "coating max");
    CHECK(checks[0].value == doctest::Approx(4.125));
    CHECK(checks[0].verdict == Verdict::broken);
  }
}
