#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/report.hpp>

#include <algorithm>
#include <stdexcept>

#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

/// Per hectare: S comes free with ammonium sulfate-like `sulfate` (N 20, S 24, at 240) and dear
/// from `sulfur` (S 90, at 1800 = 2.00 per kg). N at least 60 from `rich` (46 % at 460 = 1 per kg)
/// or sulfate. A kg of sulfate replaces 0.2 kg of N worth 0.20 and costs 0.24: 0.04 for 0.24 kg S,
/// so 1/6 per kg S until all N is sulfate's (300 kg, S 72); from there sulfur at 2.00 or more
/// sulfate at 0.24 / 0.24 = 1.00 per kg S: sulfate.
ScenarioDraft sulfur_with_nitrogen() {
  ScenarioDraft d;
  d.materials = {stated("rich", 460, {{"N", 46}}), stated("sulfate", 240, {{"N", 20}, {"S", 24}}),
                 stated("sulfur", 1800, {{"S", 90}})};
  d.rates_kg_per_ha = {{"N", at_least(60)}, {"S", at_least(10)}};
  return d;
}

}  // namespace

TEST_SUITE("cost as a function of a limit") {
  TEST_CASE("the marginal cost of a nutrient steps up where a cheap source is used up") {
    const auto map = limit_map(Scenario(sulfur_with_nitrogen()), "rate S min", 0, 100);
    REQUIRE(map.outcome.status == Status::optimal);
    CHECK(map.exact);
    CHECK(map.unit == LimitUnit::kg_per_ha);
    CHECK(map.limit_now == 10);
    REQUIRE(map.points.size() == 3);
    CHECK(map.points[0].limit == 0);
    CHECK(*map.points[0].cost == doctest::Approx(60));
    CHECK(*map.points[0].marginal_cost_after == doctest::Approx(1.0 / 6));
    CHECK(map.points[1].limit == doctest::Approx(72).epsilon(1e-9));
    CHECK(*map.points[1].cost == doctest::Approx(72));
    CHECK(*map.points[1].marginal_cost_after == doctest::Approx(1));
    CHECK(*map.points[2].cost == doctest::Approx(100));
    // 2k + 1, two that find what is possible, one for each end that lies on a kink itself, and one
    // in each of the two pieces, which shows that it is straight.
    CHECK(map.solves <= 3 + 2 + 2 + 2);
  }

  TEST_CASE("of two rules whose names read alike the value says which is meant") {
    ScenarioDraft d;
    d.materials = {stated("one", 100, {{"N", 10}, {"a:b", 2}, {"c", 1}, {"a", 1}, {"b:c", 2}}),
                   stated("two", 90, {{"N", 10}, {"a:b", 1}, {"c", 2}, {"a", 2}, {"b:c", 1}})};
    d.grade_percent = {{"N", at_least(5)}};
    d.ratios = {{"a:b", "c", {.min = 0.5}}, {"a", "b:c", {.min = 0.5}}};
    const Scenario scenario(d);
    CHECK_THROWS_WITH_AS((void)limit_map(scenario, "ratio a:b:c min", 0.5, 1),
                         "the scenario has two rules called 'ratio a:b:c min'",
                         std::invalid_argument);
    // a:b / c = (1 + s) / (2 - s) for a share s of `one`: s = 1/2 at 1, at 95 a tonne.
    const auto map =
        limit_map(scenario, RuleId{RuleKind::ratio, "a:b", "c", RuleSide::min}, 0.5, 1);
    REQUIRE(map.outcome.status == Status::optimal);
    CHECK(map.id.subject == "a:b");
    CHECK(*map.points.front().cost == doctest::Approx(90));
    CHECK(*map.points.back().cost == doctest::Approx(95));
    CHECK_THROWS_AS((void)limit_map(scenario, RuleId{RuleKind::rate, "N", {}, RuleSide::min}, 0, 1),
                    std::out_of_range);
  }

  TEST_CASE("the curve ends where no blend can follow") {
    auto draft = carrier_and_filler();
    const auto map = limit_map(Scenario(draft), "grade N min", 5, 60);
    REQUIRE(map.outcome.status == Status::optimal);
    CHECK(map.exact);
    REQUIRE(map.possible);
    CHECK(map.possible->min == 5);
    CHECK(map.possible->max == doctest::Approx(40));
    REQUIRE(map.points.size() == 2);
    CHECK(*map.points[0].marginal_cost_after == doctest::Approx(8.75));
    CHECK(*map.points[1].cost == doctest::Approx(400));
    CHECK(map.points[1].blend->portions.size() == 1);  // carrier alone, no crumb of filler
  }

  TEST_CASE("an equality is followed from the least to the greatest it can be") {
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", {10, 10}}};
    draft.materials[1].contains_percent = {{{"N", 2}}};
    const auto map = limit_map(Scenario(draft), "grade N exactly", 0, 60);
    REQUIRE(map.possible);
    CHECK(map.possible->min == doctest::Approx(2));
    CHECK(map.possible->max == doctest::Approx(40));
    CHECK(map.exact);
  }

  TEST_CASE("where no limit of the interval has a blend, the map is infeasible and says why") {
    const auto map = limit_map(Scenario(carrier_and_filler()), "grade N min", 50, 60);
    CHECK(map.outcome.status == Status::infeasible);
    CHECK_FALSE(map.possible);
    for (const auto& point : map.points) CHECK_FALSE(point.cost);
    REQUIRE(map.conflict_at);
    CHECK(*map.conflict_at == 50);  // asks less than 60
    REQUIRE(map.outcome.conflict);
    REQUIRE_FALSE(map.outcome.conflict->rules.empty());
    CHECK(map.outcome.conflict->rules[0].rule == "grade N min");
    CHECK(map.outcome.conflict->rules[0].limit == 50);
    const auto svg = to_svg(map);
    CHECK(svg.find("<polyline") == std::string::npos);
    CHECK(svg.find("There is no blend at any limit of grade N min from 50 to 60 %.") !=
          std::string::npos);
  }

  TEST_CASE("a minimum above the maximum of the same nutrient is a conflict of the two") {
    auto draft = sulfur_with_nitrogen();
    draft.rates_kg_per_ha[0].limits = {60, 80};
    const auto map = limit_map(Scenario(draft), "rate N min", 100, 120);
    CHECK(map.outcome.status == Status::infeasible);
    REQUIRE(map.outcome.conflict);
    REQUIRE(map.outcome.conflict->rules.size() == 2);
    CHECK(map.outcome.conflict->rules[0].limit == 100);
  }

  TEST_CASE("a sampled curve without a single blend is infeasible too") {
    auto draft = sulfur_with_nitrogen();
    draft.bins = 1;
    draft.total_kg_per_ha = at_most(100);
    const auto map =
        limit_map(Scenario(draft), "rate S min", 95, 120, {.samples = 3, .limits = {}});
    CHECK(map.outcome.status == Status::infeasible);
    CHECK(map.conflict_at == 95);
    CHECK(map.outcome.conflict);
  }

  TEST_CASE(
      "under either-or rules every point is a proved optimum and the map says it is sampled") {
    auto draft = sulfur_with_nitrogen();
    draft.bins = 1;
    const auto map =
        limit_map(Scenario(draft), "rate S min", 0, 100, {.samples = 11, .limits = {}});
    CHECK_FALSE(map.exact);
    CHECK_FALSE(map.why_sampled.empty());
    REQUIRE(map.points.size() == 11);  // the present limit, 10, is one of them
    for (const auto& point : map.points) {
      REQUIRE(point.cost);
      CHECK_FALSE(point.marginal_cost_after);
      auto at = draft;
      at.rates_kg_per_ha[1].limits = at_least(point.limit);
      const auto answer = formulate(Scenario(at), {.intervals = false});
      REQUIRE(answer.blend());
      CHECK(*point.cost == doctest::Approx(*answer.blend()->cost_per_ha).epsilon(1e-9));
    }
  }

  TEST_CASE("a limit on the composition per hectare moves the row itself and is sampled") {
    auto draft = sulfur_with_nitrogen();
    draft.grade_percent = {{"S", at_most(20)}};
    const auto map = limit_map(Scenario(draft), "grade S max", 1, 30, {.samples = 5, .limits = {}});
    CHECK_FALSE(map.exact);
    CHECK(map.points.size() == 6);  // with the present limit, 20
  }

  TEST_CASE("what is to be minded between two points is said though neither recipe calls for it") {
    ScenarioDraft d;
    d.materials = {stated("u", 100, {{"N", 46}}), stated("k", 200, {{"K2O", 60}})};
    d.materials[0].family = "urea";
    d.materials[1].family = "potassium-chloride";
    d.grade_percent = {{"K2O", at_least(30)}};
    const auto map = limit_map(Scenario(d), "grade K2O min", 0, 60);
    CHECK(map.exact);
    REQUIRE(map.points.size() == 2);
    CHECK(map.points[0].blend->notes.empty());  // urea alone
    CHECK(map.points[1].blend->notes.empty());  // potassium chloride alone
    REQUIRE(map.points[0].cautions_after.size() == 1);
    CHECK(map.points[0].cautions_after[0].level == NoteLevel::caution);
    CHECK(map.points[1].cautions_after.empty());
    CHECK(to_text(map).find("between 0 and 60 %: potassium-chloride with urea") !=
          std::string::npos);
  }

  TEST_CASE("a map over a limit does not judge confidence against the limit of the scenario") {
    auto draft = carrier_and_filler();
    draft.materials[0].spread_percent = {{"N", 1.0}};
    draft.grade_percent[0].confidence = 0.95;
    const auto map = limit_map(Scenario(draft), "grade N min", 5, 20);
    for (const auto& point : map.points)
      for (const auto& note : point.blend->notes)
        CHECK(note.text.find("of lots") == std::string::npos);
    CHECK(to_text(map).find("of lots") == std::string::npos);
  }

  TEST_CASE("questions that make no sense are refused") {
    const Scenario scenario(sulfur_with_nitrogen());
    CHECK_THROWS_AS((void)limit_map(scenario, "rate Zn min", 0, 10), std::out_of_range);
    CHECK_THROWS_AS((void)limit_map(scenario, "rate S min", 10, 10), std::invalid_argument);
    auto in_bins = sulfur_with_nitrogen();
    in_bins.bins = 2;
    in_bins.materials[0].min_if_used_percent = 5;
    CHECK_THROWS_AS((void)limit_map(Scenario(in_bins), "bins", 1, 2), std::invalid_argument);
    CHECK(either_or_rules(Scenario(in_bins)) ==
          std::vector<std::string>{"min if used rich", "bins"});
    CHECK_THROWS_AS((void)limit_map(scenario, "rate S min", -1, 10), std::invalid_argument);
    CHECK_THROWS_AS((void)limit_map(Scenario(carrier_and_filler()), "grade N min", 0, 101),
                    std::invalid_argument);
  }

  TEST_CASE("the rules that can be moved carry the names of reports") {
    const auto names = rules_with_limits(Scenario(sulfur_with_nitrogen()));
    CHECK(std::find(names.begin(), names.end(), "rate S min") != names.end());
  }
}
