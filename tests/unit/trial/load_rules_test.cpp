#include "trial/load_rules.hpp"

#include <doctest/doctest.h>
#include <leastwise/trial_plan.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "samples.hpp"
#include "trial/achieved.hpp"
#include "trial/loads_and_packs.hpp"

using namespace leastwise;
using namespace leastwise::trial;

namespace {

/// Rates on both sides, exact ones, grades, ratios, shares, minima if used, and a coating.
Scenario every_rule() {
  ScenarioDraft draft = trial_test::starter();
  draft.rates_kg_per_ha = {{"N", Limits{45, 50}},
                           {"P2O5", Limits{40}},
                           {"K2O", Limits{24, 24}},
                           {"Zn", Limits{1, 1}},
                           {"B", Limits{0.3, 0.33}}};
  draft.grade_percent = {{"Cl", Limits{0, 12}}};
  draft.ratios = {{"N", "P2O5", Limits{0.9, 1.3}}};
  for (auto& material : draft.materials) {
    if (material.name == "urea") material.share_percent = Limits{5, 60};
    if (material.name == "mop") material.min_if_used_percent = 3;
  }
  return Scenario(draft);
}

double value_of(const LoadRule& rule, const std::vector<Weighing>& load) {
  double of = 0;
  double to = 0;
  for (std::size_t k = 0; k < load.size(); ++k) {
    of += rule.of[k] * static_cast<double>(load[k].mass_mg);
    to += rule.to[k] * static_cast<double>(load[k].mass_mg);
  }
  return of / to;
}

bool broken(const LoadRule& rule, const std::vector<Weighing>& load) {
  const double value = value_of(rule, load);
  const double miss = rule.at_least ? rule.limit - value : value - rule.limit;
  return miss > 0.01 * std::abs(rule.limit) + 1e-12;
}

}  // namespace

TEST_SUITE("rules of a load") {
  TEST_CASE("the fractions come to what the rules themselves come to, whatever is weighed") {
    const Scenario scenario = every_rule();
    TreatmentDraft treatment;
    treatment.name = "starter";
    treatment.scenario = scenario;
    const TrialPlan plan = plan_trial(Trial(trial_test::small_trial({treatment})));
    const TreatmentPlan& planned = plan.treatments[0];
    REQUIRE(planned.state == TreatmentState::planned);
    REQUIRE(planned.load_rules.size() >= 12);
    std::mt19937_64 draw(5);
    for (int trial = 0; trial < 200; ++trial) {
      auto load = planned.weighings;
      for (auto& weighing : load) {
        weighing.mass_mg += static_cast<std::int64_t>(draw() % 2001) * weighing.mass_mg / 10000 -
                            weighing.mass_mg / 10;
      }
      TreatmentPlan other = planned;
      other.weighings = load;
      const double rate = rate_on_plots(other);
      const auto checks = rule_checks(scenario, contents_of(scenario, load, {}), rate, false);
      const auto rules = load_rules(scenario, other, {}, false);
      for (const auto& check : checks) {
        bool any_broken = false;
        bool found = false;
        bool same = false;
        for (const auto& rule : rules) {
          if (rule.rule != check.rule) continue;
          found = true;
          CHECK(rule.limit == doctest::Approx(check.limit));
          CHECK(rule.unit == check.unit);
          same = same || std::abs(value_of(rule, load) - check.value) <=
                             1e-9 * std::max(1.0, std::abs(check.value));
          any_broken = any_broken || broken(rule, load);
        }
        CAPTURE(check.rule);
        const bool trivial = check.value == 0 && check.verdict == Verdict::holds;
        CHECK((found || trivial));
        if (!found) continue;
        CHECK(same);
        CHECK(any_broken == (check.verdict == Verdict::broken));
      }
    }
  }

  TEST_CASE("within its range a mass breaks no rule, beyond it one does") {
    TreatmentDraft treatment;
    treatment.name = "starter";
    treatment.scenario = every_rule();
    const TrialPlan plan = plan_trial(Trial(trial_test::small_trial({treatment})));
    const TreatmentPlan& planned = plan.treatments[0];
    REQUIRE(planned.ranges.size() == planned.weighings.size());
    std::size_t ends = 0;
    for (std::size_t k = 0; k < planned.ranges.size(); ++k) {
      const MassRange& range = planned.ranges[k];
      const auto any_broken = [&](double grams) {
        auto load = planned.weighings;
        load[k].mass_mg = std::llround(grams * 1000);
        return std::any_of(planned.load_rules.begin(), planned.load_rules.end(),
                           [&](const LoadRule& rule) { return broken(rule, load); });
      };
      const double digit = static_cast<double>(planned.weighings[k].readability_mg) / 1000;
      CAPTURE(planned.weighings[k].material);
      if (range.from_g > 0) {
        ++ends;
        CHECK(!any_broken(range.from_g));
        CHECK(any_broken(range.from_g - 1.01 * digit));
      }
      if (std::isfinite(range.to_g)) {
        ++ends;
        CHECK(!any_broken(range.to_g));
        CHECK(any_broken(range.to_g + 1.01 * digit));
      }
    }
    CHECK(ends >= 6);
  }

  TEST_CASE("a fixed recipe is held to its coating alone") {
    const TrialPlan plan = plan_trial(Trial(trial_test::small_trial({trial_test::recipe(200, 2)})));
    REQUIRE(plan.treatments[0].load_rules.size() == 1);
    CHECK(plan.treatments[0].load_rules[0].rule == "coating max");
  }
}
