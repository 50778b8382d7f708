// Marginal-cost curves of random linear programs against GLPK on both sides of every kink.
#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/limit_map.hpp>

#include <algorithm>
#include <cmath>

#include "property/landscape/relative_distance.hpp"
#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// The scenario with the minimum rate of one nutrient moved; its maximum moves out of the way of
/// nothing, so a minimum above it is refused.
std::optional<Scenario> with_minimum(const Scenario& scenario, std::size_t rate, double limit) {
  auto draft = scenario.draft();
  draft.rates_kg_per_ha[rate].limits.min = limit;
  try {
    return Scenario(draft);
  } catch (const InputError&) {
    return std::nullopt;
  }
}

double interpolated(const LimitMap& map, double limit) {
  for (std::size_t k = 0; k + 1 < map.points.size(); ++k)
    if (limit >= map.points[k].limit && limit <= map.points[k + 1].limit)
      return *map.points[k].cost +
             *map.points[k].marginal_cost_after * (limit - map.points[k].limit);
  return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace

TEST_CASE("the curve of a nutrient's minimum is convex and GLPK confirms both sides of each kink") {
  int kinks = 0;
  for (std::uint64_t seed = 1; seed < 60; ++seed) {
    const auto scenario = random_scenario(
        seed, {.materials = 15, .either_or = false, .basis = Basis::per_hectare, .sabotage = 0});
    if (!formulate(scenario, {.intervals = false}).blend()) continue;
    for (std::size_t k = 0; k < scenario.rates().size(); ++k) {
      const auto& rate = scenario.rates()[k];
      if (!rate.limits.has_min() || rate.limits.exact() || rate.limits.min <= 0) continue;
      const double now = rate.limits.min;
      INFO("seed ", seed, " rate ", rate.nutrient);
      const auto map = limit_map(scenario, "rate " + rate.nutrient + " min", now / 2, now * 2);
      REQUIRE(map.outcome.status == Status::optimal);
      REQUIRE(map.exact);
      REQUIRE(map.possible);
      for (std::size_t i = 1; i + 1 < map.points.size(); ++i) {
        ++kinks;
        CHECK(*map.points[i].marginal_cost_after > *map.points[i - 1].marginal_cost_after - 1e-9);
        const double step = 1e-2 * std::min(map.points[i].limit - map.points[i - 1].limit,
                                            map.points[i + 1].limit - map.points[i].limit);
        for (const double limit : {map.points[i].limit - step, map.points[i].limit + step}) {
          const auto moved = with_minimum(scenario, k, limit);
          if (!moved) continue;
          const auto peer = solve_with_peer(read(*moved), Peer::glpk);
          if (peer.status == PeerStatus::optimal)
            CHECK(relative_distance(interpolated(map, limit), peer.cost) < 1e-6);
        }
      }
      if (map.possible->max < now * 2 * (1 - 1e-6)) {
        const auto beyond = with_minimum(scenario, k, map.possible->max * (1 + 1e-4));
        if (beyond) CHECK_FALSE(formulate(*beyond, {.intervals = false}).blend());
      }
    }
  }
  CHECK(kinks > 100);
}

TEST_CASE("a sampled curve under either-or rules agrees with CBC at every point") {
  int points = 0;
  for (std::uint64_t seed = 500; seed < 512; ++seed) {
    const auto scenario =
        random_scenario(seed, {.materials = 12, .basis = Basis::per_hectare, .sabotage = 0});
    if (!formulate(scenario, {.intervals = false}).blend()) continue;
    const auto& rate = scenario.rates().front();
    if (!rate.limits.has_min() || rate.limits.exact() || rate.limits.min <= 0) continue;
    INFO("seed ", seed, " rate ", rate.nutrient);
    const auto map = limit_map(scenario, "rate " + rate.nutrient + " min", rate.limits.min / 2,
                               rate.limits.min * 1.5, {.samples = 5, .limits = {}});
    if (map.exact) continue;
    for (const auto& point : map.points) {
      const auto moved = with_minimum(scenario, 0, point.limit);
      if (!moved) continue;
      const auto peer = solve_with_peer(read(*moved), Peer::cbc);
      if (peer.status == PeerStatus::unfinished) continue;
      ++points;
      CHECK(point.cost.has_value() == (peer.status == PeerStatus::optimal));
      if (point.cost) CHECK(relative_distance(*point.cost, peer.cost) < 1e-6);
    }
  }
  CHECK(points > 20);
}
