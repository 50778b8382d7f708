#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

std::set<std::string> names(const Conflict& conflict) {
  std::set<std::string> set;
  for (const auto& r : conflict.rules) set.insert(r.rule);
  return set;
}

const ConflictingRule& named(const Conflict& conflict, const std::string& rule) {
  return *std::find_if(conflict.rules.begin(), conflict.rules.end(),
                       [&](const auto& r) { return r.rule == rule; });
}

}  // namespace

TEST_SUITE("conflict") {
  TEST_CASE("nitrogen above the richest material conflicts by the difference") {
    auto d = carrier_and_filler();
    d.grade_percent[0].limits.min = 45;
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    CHECK(names(*answer.conflict()) == std::set<std::string>{"grade N min"});
    CHECK(answer.conflict()->irreducible);
    CHECK(*answer.conflict()->rules[0].shortfall == doctest::Approx(5));
    REQUIRE(answer.conflict()->nearest.size() == 1);
    CHECK(answer.conflict()->nearest[0].to == doctest::Approx(40));
  }

  TEST_CASE("two rules that fight are both named and a bystander is not") {
    auto d = carrier_and_filler();
    d.materials[1].share_percent = at_least(80);  // leaves 20 % carrier: 8 % N
    d.grade_percent.push_back({"Ca", at_least(1)});
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    const auto& c = *answer.conflict();
    CHECK(names(c) == std::set<std::string>{"grade N min", "share filler min"});
    CHECK(*named(c, "grade N min").shortfall == doctest::Approx(2));
    CHECK(*named(c, "share filler min").shortfall == doctest::Approx(5));
    // 5 of 80 is a smaller change than 2 of 10.
    REQUIRE(c.nearest.size() == 1);
    CHECK(c.nearest[0].rule == "share filler min");
    CHECK(c.nearest[0].to == doctest::Approx(75));
    CHECK(*c.nearest_cost_per_t == doctest::Approx(137.5));
  }

  TEST_CASE("families kept apart can be the conflict") {
    ScenarioDraft d;
    d.materials = {stated("a", 400, {{"N", 46}}), stated("b", 200, {{"P2O5", 46}}),
                   stated("f", 40, {{"Ca", 30}})};
    d.incompatible = {{"a", "b"}};
    d.grade_percent = {{"N", at_least(10)}, {"P2O5", at_least(10)}};
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    const auto& c = *answer.conflict();
    CHECK(names(c) == std::set<std::string>{"grade N min", "grade P2O5 min", "apart a / b"});
    CHECK_FALSE(named(c, "apart a / b").shortfall);
    CHECK(*named(c, "grade N min").shortfall == doctest::Approx(10));
  }

  TEST_CASE("too few bins can be the conflict") {
    ScenarioDraft d;
    d.materials = {stated("n", 400, {{"N", 46}}), stated("p", 200, {{"P2O5", 46}}),
                   stated("k", 300, {{"K2O", 60}})};
    d.bins = 2;
    d.grade_percent = {{"N", at_least(5)}, {"P2O5", at_least(5)}, {"K2O", at_least(5)}};
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    CHECK(names(*answer.conflict()) ==
          std::set<std::string>{"grade N min", "grade P2O5 min", "grade K2O min", "bins"});
  }

  TEST_CASE("rates against a total per hectare") {
    ScenarioDraft d;
    d.materials = {stated("n", 400, {{"N", 40}}), stated("k", 300, {{"K2O", 50}})};
    d.rates_kg_per_ha = {{"N", at_least(80)}, {"K2O", at_least(50)}};
    d.total_kg_per_ha = at_most(250);
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    const auto& c = *answer.conflict();
    CHECK(names(c) == std::set<std::string>{"rate N min", "rate K2O min", "total max"});
    CHECK(*named(c, "total max").shortfall == doctest::Approx(50));
    CHECK(*named(c, "rate N min").shortfall == doctest::Approx(20));
    CHECK(*named(c, "rate K2O min").shortfall == doctest::Approx(25));
    CHECK(named(c, "total max").unit == LimitUnit::kg_per_ha);
  }

  TEST_CASE("infeasible by a millionth is infeasible, and a millionth is what is missing") {
    auto d = carrier_and_filler();
    d.grade_percent[0].limits.min = 40 * (1 + 1e-6);
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    CHECK(*answer.conflict()->rules[0].shortfall == doctest::Approx(40e-6).epsilon(1e-3));
    d.grade_percent[0].limits.min = 40;
    CHECK(formulate(Scenario(d)).blend());
  }

  TEST_CASE("changing the limits as the nearest blend says makes a blend possible") {
    ScenarioDraft d;
    d.materials = {stated("n", 400, {{"N", 40}}), stated("k", 300, {{"K2O", 50}, {"Cl", 45}})};
    d.rates_kg_per_ha = {{"N", at_least(80)}, {"K2O", at_least(50)}};
    d.grade_percent = {{"Cl", at_most(3)}};
    d.total_kg_per_ha = at_most(400);
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    REQUIRE_FALSE(answer.conflict()->nearest.empty());
    for (const auto& change : answer.conflict()->nearest) {
      if (change.rule == "rate N min") d.rates_kg_per_ha[0].limits.min = change.to;
      if (change.rule == "rate K2O min") d.rates_kg_per_ha[1].limits.min = change.to;
      if (change.rule == "grade Cl max") d.grade_percent[0].limits.max = change.to;
      if (change.rule == "total max") d.total_kg_per_ha->max = change.to;
    }
    const auto relaxed = formulate(Scenario(d));
    REQUIRE(relaxed.blend());
    CHECK(*relaxed.blend()->cost_per_ha ==
          doctest::Approx(*answer.conflict()->nearest_cost_per_ha));
  }

  // 500 kg of the compound bring 100 kg of each nutrient and 50 kg of S, which is 5 % of 1000 kg;
  // but 600 kg are allowed. To be at 600 (1 + t) kg takes the change t of the total, and the change
  // (50 / 6 / 5) / (1 + t) - 1 of the grade; their sum is least at (1 + t)^2 = 5 / 3. Less of the
  // compound would change three minima at once.
  TEST_CASE("the nearest limits share a change between a total and a grade as costs least") {
    ScenarioDraft d;
    d.materials = {stated("compound", 400, {{"P2O5", 20}, {"K2O", 20}, {"MgO", 20}, {"S", 10}}),
                   stated("filler", 50, {})};
    d.rates_kg_per_ha = {{"P2O5", at_least(100)}, {"K2O", at_least(100)}, {"MgO", at_least(100)}};
    d.grade_percent = {{"S", at_most(5)}};
    d.total_kg_per_ha = at_most(600);
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    CHECK(answer.conflict()->nearest_is_least);
    REQUIRE(answer.conflict()->nearest.size() == 2);
    const double root = std::sqrt(5.0 / 3);
    for (const auto& change : answer.conflict()->nearest)
      CHECK(change.to ==
            doctest::Approx(change.rule == "total max" ? 600 * root : 5 * root).epsilon(1e-3));
  }

  TEST_CASE("powders without a granule to hold them conflict with the coating") {
    ScenarioDraft d;
    auto zinc = stated("zinc-oxide-powder", 2600, {{"Zn", 78}});
    zinc.form = Form::powder;
    d.materials = {zinc};
    d.grade_percent = {{"Zn", {14, none}}};
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    CHECK(names(*answer.conflict()).count("coating max") == 1);
  }

  // One bin. Phosphate alone holds no Mg, so no ratio of its Ca to Mg lets it in, however high; the
  // small change would be to do without Mg. Magnesia alone gives up P2O5 and Ca.
  TEST_CASE("the nearest blend does not rest on a ratio to something that is not there") {
    ScenarioDraft d;
    d.materials = {stated("phosphate", 500, {{"P2O5", 44}, {"Ca", 13}}),
                   stated("magnesia", 300, {{"Mg", 16}})};
    d.rates_kg_per_ha = {{"P2O5", at_least(44)}, {"Ca", at_least(13)}, {"Mg", at_least(0.16)}};
    d.ratios = {{"Ca", "Mg", at_most(3)}};
    d.bins = 1;
    const auto answer = formulate(Scenario(d));
    REQUIRE(answer.conflict());
    REQUIRE(answer.conflict()->nearest_blend.has_value());
    std::set<std::string> moved;
    for (const auto& change : answer.conflict()->nearest) {
      moved.insert(change.rule);
      CHECK(change.to == 0);
    }
    CHECK(moved == std::set<std::string>{"rate Ca min", "rate P2O5 min"});
  }

  // 3.3 of 10 is 0.33, though not in doubles: 3.3 - 0.33 * 10 leaves -4e-16 of them.
  TEST_CASE("a material with exactly the ratio asked for can be the blend") {
    for (const bool exactly : {false, true}) {
      ScenarioDraft d;
      d.materials = {stated("compound", 400, {{"N", 10}, {"S", 3.3}})};
      d.rates_kg_per_ha = {{"N", {80, none}}};
      d.ratios = {{"S", "N", {0.33, exactly ? 0.33 : none}}};
      const auto answer = formulate(Scenario(d));
      REQUIRE(answer.blend());
      CHECK(*answer.blend()->total_kg_per_ha == doctest::Approx(800));
      CHECK(*answer.blend()->cost_per_ha == doctest::Approx(320));
    }
  }
}
