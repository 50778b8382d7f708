// Exact limit maps of scenarios with round numbers, held against single solves.
#include <doctest/doctest.h>
#include <leastwise/limit_map.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "property/tiny_draft.hpp"
#include "support/answers.hpp"
#include "support/rule_changes.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr int points_a_piece = 20;

/// More for a longer look:  LEASTWISE_LIMIT_SCENARIOS=2000 property_tests -ts=limit_points
std::uint64_t limit_scenarios() {
  const char* text = std::getenv("LEASTWISE_LIMIT_SCENARIOS");
  return text == nullptr ? 60 : std::strtoull(text, nullptr, 10);
}

ScenarioDraft without_minima(ScenarioDraft draft) {
  for (auto& material : draft.materials) material.min_if_used_percent.reset();
  return draft;
}

/// Returns: how many points were solved.
int check_map(const ScenarioDraft& draft, const RuleId& rule, const LimitMap& map) {
  int solved = 0;
  for (std::size_t k = 0; k + 1 < map.points.size(); ++k) {
    const auto& here = map.points[k];
    const auto& next = map.points[k + 1];
    for (int i = 0; i < points_a_piece; ++i) {
      const double share = (i + 0.5) / points_a_piece;
      const double limit = here.limit + share * (next.limit - here.limit);
      const auto reply = reply_to(with_limit(draft, rule, limit));
      if (reply.outcome == PeerOutcome::refused) continue;
      CAPTURE(limit);
      REQUIRE(reply.possible());
      const double cost = *here.cost + share * (*next.cost - *here.cost);
      CHECK(std::fabs(reply.cost - cost) <= 1e-7 * std::max(1.0, std::fabs(cost)));
      ++solved;
    }
  }
  return solved;
}

}  // namespace

TEST_SUITE("limit_points") {
  TEST_CASE("an exact map costs at every limit what a blend with that limit costs") {
    int maps = 0;
    int solved = 0;
    for (std::uint64_t seed = 0; seed < limit_scenarios(); ++seed) {
      const auto draft = without_minima(tiny_draft(seed));
      const Scenario scenario(draft);
      for (const auto& rule : rule_ids(scenario)) {
        if (rule.kind == RuleKind::bins) continue;  // has no map
        const double now = limit_of(draft, rule).value_or(0);
        if (now <= 0) continue;
        const bool percent = limit_unit(rule) == LimitUnit::percent;
        CAPTURE(seed);
        const std::string name = to_string(rule);
        CAPTURE(name);
        const auto map =
            limit_map(scenario, rule, now * 0.2, percent ? std::min(now * 2, 99.0) : now * 2);
        if (!map.exact || map.outcome.status != Status::optimal) continue;
        ++maps;
        solved += check_map(draft, rule, map);
      }
    }
    MESSAGE(maps, " exact maps, ", solved, " single solves");
    CHECK(maps > 30);
  }

  TEST_CASE(
      "where the limit meets the other limit on its nutrient the curve is still the true one") {
    ScenarioDraft draft;
    draft.materials = {{.name = "sulfate",
                        .form = Form::granule,
                        .contains_percent = std::vector<Content>{{"K2O", 50}, {"S", 18}},
                        .price_per_t = 450}};
    draft.rates_kg_per_ha = {{"K2O", {.min = 41}}, {"S", {.min = 37, .max = 51}}};
    const auto map = limit_map(Scenario(draft), "rate S min", 12, 60);
    REQUIRE(map.exact);
    // Potash takes 82 kg of it, 36.90, which bring 14.76 kg of S; from there each kg of S takes
    // 100/18 kg, 2.50.
    REQUIRE(map.points.size() == 3);
    CHECK(*map.points[0].cost == doctest::Approx(36.9));
    CHECK(map.points[1].limit == doctest::Approx(14.76));
    CHECK(*map.points[1].cost == doctest::Approx(36.9));
    CHECK(map.points[2].limit == doctest::Approx(51));
    CHECK(*map.points[2].cost == doctest::Approx(127.5));
  }

  // Both sides of an exact rate of Zn count differently, so they are a pair of rules; and there is
  // a bend where the coating is full, at 0.592 kg/ha.
  TEST_CASE("the curve of a pair of rules keeps its bends") {
    const auto draft = without_minima(tiny_draft(277));
    const Scenario scenario(draft);
    for (const auto& rule : rule_ids(scenario)) {
      if (to_string(rule) != "rate Zn exactly") continue;
      const auto map = limit_map(scenario, rule, 0.08, 0.8);
      REQUIRE(map.exact);
      CHECK(map.points.size() == 3);
      CHECK(check_map(draft, rule, map) == 2 * points_a_piece);
    }
  }
}
