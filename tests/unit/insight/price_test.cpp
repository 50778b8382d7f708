#include <doctest/doctest.h>

#include <cmath>

#include "insight/entry_price.hpp"
#include "insight/interval.hpp"
#include "scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

double cost_of(const ScenarioDraft& draft) {
  FormulateOptions quick;
  quick.intervals = false;
  const auto answer = formulate(Scenario(draft), quick);
  REQUIRE(answer.blend());
  const auto& blend = *answer.blend();
  return blend.cost_per_ha ? *blend.cost_per_ha : blend.cost_per_t;
}

/// Per hectare, so that grades, shares, ratios and coating move coefficients with their limits.
ScenarioDraft field() {
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
    const Scenario scenario(field());
    const auto answer = formulate(scenario);
    REQUIRE(answer.blend());
    CHECK(answer.blend()->binding.size() >= 4);
    for (const auto& rule : answer.blend()->binding) {
      INFO(rule.rule);
      const auto moved = [&](double limit) {
        auto d = field();
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
      CHECK_FALSE(rule.unique);
      REQUIRE(rule.price_below);
      REQUIRE(rule.price_above);
      CHECK(*rule.price_below == doctest::Approx(0));
      CHECK(*rule.price_above == doctest::Approx(rule.rule == "grade N min" ? 8.75 : 3.5));
    }
    CHECK(seen);
  }

  TEST_CASE("a material left out enters just below its entry price and not above") {
    auto d = field();
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
      d = field();
    }
  }

  TEST_CASE("with_price gives another scenario and leaves the first alone") {
    const Scenario before(carrier_and_filler());
    const auto after = before.with_price("carrier", 450);
    CHECK(formulate(before).blend()->cost_per_t == doctest::Approx(137.5));
    CHECK(formulate(after).blend()->cost_per_t == doctest::Approx(150));
    CHECK_THROWS_AS((void)before.with_price("carier", 450), std::out_of_range);
  }
}
