#include <doctest/doctest.h>

#include <cmath>
#include <optional>

#include "scenarios.hpp"
#include "solve/sensitivity/entry_price.hpp"
#include "solve/sensitivity/interval.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

double cost_of(const ScenarioDraft& draft) {
  SolveOptions quick;
  quick.intervals = false;
  const auto answer = formulate(Scenario(draft), quick);
  REQUIRE(answer.blend());
  const auto& blend = *answer.blend();
  return blend.cost_per_ha ? *blend.cost_per_ha : blend.cost_per_t;
}

std::optional<BindingRule> binding_of(const ScenarioDraft& draft, const std::string& rule) {
  const auto answer = formulate(Scenario(draft));
  REQUIRE(answer.blend());
  for (const auto& binding : answer.blend()->binding)
    if (binding.rule == rule) return binding;
  return std::nullopt;
}

/// Per hectare, so that grades, shares, ratios and coating move coefficients with their limits.
ScenarioDraft moving_field() {
  ScenarioDraft d;
  d.currency = "crowns";
  d.materials = {stated("urea", 410, {{"N", 46}}), stated("map", 560, {{"N", 11}, {"P2O5", 52}}),
                 stated("mop", 380, {{"K2O", 60}, {"Cl", 47}}),
                 stated("sop", 720, {{"K2O", 50}, {"S", 18}}),
                 stated("as", 260, {{"N", 21}, {"S", 24}})};
  d.rates_kg_per_ha = {{"N", at_least(60)}, {"P2O5", at_least(40)}, {"K2O", at_least(50)}};
  d.grade_percent = {{"Cl", at_most(8)}};
  d.ratios = {{"N", "S", at_most(4)}};
  d.materials[0].share_percent = at_most(20);
  return d;
}

}  // namespace

TEST_SUITE("prices") {
  TEST_CASE("every shadow price is the slope of the cost, inside its interval and not outside") {
    const Scenario scenario(moving_field());
    const auto answer = formulate(scenario);
    REQUIRE(answer.blend());
    CHECK(answer.blend()->binding.size() >= 4);
    for (const auto& rule : answer.blend()->binding) {
      INFO(rule.rule);
      const auto moved = [&](double limit) {
        auto d = moving_field();
        for (auto& t : d.rates_kg_per_ha)
          if (rule.rule == "rate " + t.nutrient + " min") t.limits.min = limit;
        if (rule.rule == "grade Cl max") d.grade_percent[0].limits.max = limit;
        if (rule.rule == "ratio N:S max") d.ratios[0].limits.max = limit;
        if (rule.rule == "share urea max") d.materials[0].share_percent->max = limit;
        return cost_of(d);
      };
      const double h = 1e-4 * rule.limit;
      const double slope = (moved(rule.limit + h) - moved(rule.limit - h)) / (2 * h);
      CHECK(slope == doctest::Approx(rule.shadow_price).epsilon(1e-3));
      REQUIRE(rule.holds_from);
      CHECK(*rule.holds_from < rule.limit);
      if (rule.holds_to) CHECK(*rule.holds_to > rule.limit);
    }
  }

  TEST_CASE("two minima that meet at one point show both one-sided prices and say so") {
    // Ca from the filler's share: N >= 10 needs 250 kg carrier, share carrier >= 25 % the same.
    auto d = carrier_and_filler();
    d.materials[0].share_percent = at_least(25);
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.blend());
    bool seen = false;
    for (const auto& rule : answer.blend()->binding) {
      if (rule.rule != "grade N min" && rule.rule != "share carrier min") continue;
      seen = true;
      CHECK(rule.unique == false);
      REQUIRE(rule.price_below);
      REQUIRE(rule.price_above);
      CHECK(*rule.price_below == doctest::Approx(0));
      CHECK(*rule.price_above == doctest::Approx(rule.rule == "grade N min" ? 8.75 : 3.5));
    }
    CHECK(seen);
  }

  TEST_CASE("a material left out enters just below its entry price and not above") {
    auto d = moving_field();
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.blend());
    const double cost = *answer.blend()->cost_per_ha;
    for (const auto& u : answer.blend()->unused) {
      INFO(u.material);
      REQUIRE(u.enters_below_price_per_t);
      for (auto& m : d.materials)
        if (m.name == u.material) m.price_per_t = *u.enters_below_price_per_t * 0.99;
      CHECK(cost_of(d) < cost * (1 - 1e-9));
      for (auto& m : d.materials)
        if (m.name == u.material) m.price_per_t = *u.enters_below_price_per_t * 1.001;
      CHECK(cost_of(d) == doctest::Approx(cost).epsilon(1e-9));
      d = moving_field();
    }
  }

  TEST_CASE("with_price gives another scenario and leaves the first alone") {
    const Scenario before(carrier_and_filler());
    const auto after = before.with_price("carrier", 450);
    CHECK(formulate(before).blend()->cost_per_t == doctest::Approx(137.5));
    CHECK(formulate(after).blend()->cost_per_t == doctest::Approx(150));
    CHECK_THROWS_AS((void)before.with_price("carier", 450), std::out_of_range);
  }

  TEST_CASE("an interval ends where another rule on the same material takes over") {
    // 250 kg carrier, the rest filler up to its limit, then chalk: one more percent of filler saves
    // 10 kg (0.07 - 0.05), until the stock of 650 kg holds it at 65 %.
    auto d = carrier_and_filler();
    d.materials[1].share_percent = at_most(60);
    d.materials[1].stock_kg = 650;
    d.make_tonnes = 1;
    d.materials.push_back(stated("chalk", 70, {{"Ca", 38}}));
    const auto share = binding_of(d, "share filler max");
    REQUIRE(share);
    CHECK(share->shadow_price == doctest::Approx(-0.2));
    CHECK(share->holds_from.value() == doctest::Approx(0));
    CHECK(share->holds_to.value() == doctest::Approx(65));
  }

  TEST_CASE("a minimum's interval ends where the maximum of the same rate leaves no blend") {
    auto d = moving_field();
    d.ratios.clear();
    d.rates_kg_per_ha[0].limits = {60, 64};
    const auto n = binding_of(d, "rate N min");
    REQUIRE(n);
    CHECK(n->holds_to.value() <= 64 + 1e-9);
  }

  TEST_CASE("a branch that is cheaper only within a narrow range of limits ends the interval") {
    // Own branch: plain N (1.00 a kg) and plain S, 50 for all of it: cost L + 50.
    // Other branch: both at 145 together when L = 100; below, S must come from the dear C, and
    // cost rises by (0.5 / 0.9) 100 - 5 x 0.29 = 54.1056 per kg less; above, N from the dear D.
    // They cross at d = 5 / (54.1056 + 1) below 100.
    ScenarioDraft d;
    d.materials = {stated("plain-n", 460, {{"N", 46}}), stated("plain-s", 200, {{"S", 20}}),
                   stated("both", 290, {{"N", 20}, {"N-urea", 20}, {"S", 10}}),
                   stated("c", 100000, {{"S", 90}}), stated("d", 100000, {{"N", 50}})};
    d.materials[0].family = d.materials[1].family = "plain";
    d.incompatible = {{"plain", "both"}};
    d.rates_kg_per_ha = {{"N", {80, 80}}, {"S", {50, 50}}};
    const auto n = binding_of(d, "rate N exactly");
    REQUIRE(n);
    CHECK(n->shadow_price == doctest::Approx(1));
    CHECK(n->holds_to.value() == doctest::Approx(100 - 5 / (50 / 0.9 - 1.45 + 1)).epsilon(1e-7));
  }

  TEST_CASE("a limit of milligrams has one price where it sits on no kink") {
    ScenarioDraft d;
    d.materials = {stated("urea-like", 455, {{"N", 46}}),
                   stated("clean", 720, {{"N", 11}, {"P2O5", 52}, {"Cd", 0.0002}}),
                   stated("rock", 210, {{"P2O5", 30}, {"Cd", 0.0040}}),
                   stated("potash", 395, {{"K2O", 60}})};
    d.rates_kg_per_ha = {{"N", {60, none}}, {"P2O5", {60, none}}, {"K2O", {60, none}}};
    d.grade_percent = {{"Cd", {-none, 0.0003}}};
    const auto cadmium = binding_of(d, "grade Cd max");
    REQUIRE(cadmium);
    CHECK(cadmium->unique == true);
    CHECK(cadmium->holds_from.value_or(0) < 0.0003);
    CHECK(cadmium->holds_to.value() > 0.0003);
    const double step = 1e-9;
    d.grade_percent[0].limits.max = 0.0003 + step;
    const double more = cost_of(d);
    d.grade_percent[0].limits.max = 0.0003 - step;
    CHECK(cadmium->shadow_price == doctest::Approx((more - cost_of(d)) / (2 * step)).epsilon(1e-4));
  }
}
