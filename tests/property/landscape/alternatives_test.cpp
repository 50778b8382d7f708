// The list of next-best blends against every subset of up to 12 materials, each subset's cheapest
// blend found by a linear program written independently of the library's.
#include <doctest/doctest.h>
#include <leastwise/alternatives.hpp>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

bool allowed(const Reading& reading, std::size_t subset) {
  int granules = 0;
  for (std::size_t i = 0; i < reading.size(); ++i) {
    if (!(subset >> i & 1)) continue;
    if (!reading.enters[i]) return false;
    granules += reading.granule[i] ? 1 : 0;
  }
  if (reading.bins > 0 && granules > reading.bins) return false;
  const auto touches = [&](const std::vector<std::size_t>& group) {
    return std::any_of(group.begin(), group.end(), [&](std::size_t i) { return subset >> i & 1; });
  };
  return std::none_of(reading.apart.begin(), reading.apart.end(), [&](const Apart& apart) {
    return touches(apart.first) && touches(apart.second);
  });
}

/// Cost of the cheapest blend made of nothing but the materials of each subset.
std::vector<double> cheapest_of_subsets(const Reading& reading) {
  const std::size_t count = std::size_t{1} << reading.size();
  std::vector<double> cost(count, infinity);
  for (std::size_t subset = 1; subset < count; ++subset) {
    if (allowed(reading, subset)) {
      std::vector<char> used(reading.size());
      for (std::size_t i = 0; i < reading.size(); ++i) used[i] = subset >> i & 1;
      const auto answer = cheapest_with(reading, used);
      if (answer.status == PeerStatus::optimal) cost[subset] = answer.cost;
    }
    for (std::size_t i = 0; i < reading.size(); ++i)
      if (subset >> i & 1) cost[subset] = std::min(cost[subset], cost[subset & ~(1UL << i)]);
  }
  return cost;
}

double tolerance_at(double cost) { return 1e-7 * std::max(1.0, std::fabs(cost)); }

struct Listed {
  std::size_t subset = 0;
  double cost = 0;
};

/// All sets of which each material earns its place, cheapest first.
std::vector<Listed> enumerated(const Reading& reading, const std::vector<double>& cost) {
  std::vector<Listed> list;
  for (std::size_t subset = 1; subset < cost.size(); ++subset) {
    if (cost[subset] == infinity) continue;
    bool earns = true;
    for (std::size_t i = 0; earns && i < reading.size(); ++i)
      if (subset >> i & 1)
        earns = cost[subset & ~(1UL << i)] > cost[subset] + tolerance_at(cost[subset]);
    if (earns) list.push_back({subset, cost[subset]});
  }
  std::stable_sort(list.begin(), list.end(),
                   [](const Listed& a, const Listed& b) { return a.cost < b.cost; });
  return list;
}

std::size_t subset_of(const Scenario& scenario, const Alternative& line) {
  std::size_t subset = 0;
  for (const auto& name : line.materials) subset |= 1UL << *scenario.index_of(name);
  return subset;
}

/// Returns: how many lines were compared.
int compare_with_enumeration(const Scenario& scenario, int count) {
  const auto reading = read(scenario);
  const auto list = alternatives(scenario, count);
  const auto truth = enumerated(reading, cheapest_of_subsets(reading));
  if (truth.empty()) {
    CHECK(list.outcome.status == Status::infeasible);
    return 0;
  }
  REQUIRE(list.outcome.status == Status::optimal);
  const auto wanted = std::min<std::size_t>(truth.size(), static_cast<std::size_t>(count));
  REQUIRE(list.list.size() == wanted);
  CHECK((list.exhausted || truth.size() >= wanted));
  for (std::size_t k = 0; k < wanted; ++k) {
    INFO("line ", k);
    CHECK(std::fabs(list.list[k].cost - truth[k].cost) <= tolerance_at(truth[k].cost));
    const std::size_t subset = subset_of(scenario, list.list[k]);
    // Sets of one cost may stand in another order.
    CHECK(std::any_of(truth.begin(), truth.end(), [&](const Listed& t) {
      return t.subset == subset && std::fabs(t.cost - list.list[k].cost) <= tolerance_at(t.cost);
    }));
    for (std::size_t other = 0; other < k; ++other)
      CHECK(subset_of(scenario, list.list[other]) != subset);
    CHECK(audit(reading, amounts_of(scenario, list.list[k].blend)).passes());
  }
  return static_cast<int>(wanted);
}

}  // namespace

TEST_CASE("next-best blends are those of an enumeration of all subsets, in order, none missed") {
  int lines = 0;
  for (std::uint64_t seed = 1; seed < 40; ++seed) {
    INFO("seed ", seed);
    lines += compare_with_enumeration(random_scenario(seed, {.materials = 9}), 25);
  }
  for (std::uint64_t seed = 60; seed < 90; ++seed) {
    INFO("seed ", seed);
    lines +=
        compare_with_enumeration(random_scenario(seed, {.materials = 10, .either_or = false}), 25);
  }
  CHECK(lines > 300);
}

TEST_CASE("with 12 materials the whole list is complete") {
  int lines = 0;
  for (std::uint64_t seed = 200; seed < 240; ++seed) {
    INFO("seed ", seed);
    lines += compare_with_enumeration(random_scenario(seed, {.materials = 12}), 100000);
  }
  CHECK(lines > 50);
}

TEST_CASE("no blend within the allowance has fewer materials than the fewest") {
  int checked = 0;
  for (std::uint64_t seed = 300; seed < 330; ++seed) {
    const auto scenario = random_scenario(seed, {.materials = 9});
    const auto reading = read(scenario);
    const auto cost = cheapest_of_subsets(reading);
    if (cost.back() == infinity) continue;
    INFO("seed ", seed);
    for (const double percent : {0.0, 2.0, 10.0, 40.0}) {
      const auto near = near_optimum(scenario, percent, SecondaryObjective::fewest_materials);
      REQUIRE(near.outcome.status == Status::optimal);
      const double most = cost.back() + percent / 100 * std::fabs(cost.back());
      int fewest = 99;
      double cheapest = infinity;
      for (std::size_t subset = 1; subset < cost.size(); ++subset) {
        if (cost[subset] > most + tolerance_at(most)) continue;
        const int size = __builtin_popcountll(subset);
        if (size < fewest) cheapest = infinity;
        fewest = std::min(fewest, size);
        if (size == fewest) cheapest = std::min(cheapest, cost[subset]);
      }
      CHECK(near.value == fewest);
      CHECK(std::fabs(*near.cost - cheapest) <= tolerance_at(cheapest));
      ++checked;
    }
  }
  CHECK(checked > 40);
}
