#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "model/model.hpp"
#include "solver/search.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"

// A search that goes on from the leaves of an earlier one, under other costs, limits and either-or
// rules, against one that starts afresh.

using namespace leastwise;
using namespace leastwise::support;

TEST_SUITE("leaves") {
  TEST_CASE("from the leaves of a search, a changed program leads to what a fresh search finds") {
    int blends = 0;
    int dearer_than_cutoff = 0;
    int impossible = 0;
    long fresh_programs = 0;
    long programs = 0;
    for (std::uint64_t seed = 45'000; seed < 45'400; ++seed) {
      CAPTURE(seed);
      Random random(seed);
      auto model = model::build(Scenario(random_draft(
          seed, {.materials = 8 + static_cast<int>(seed % 50), .sabotage = 0, .frills = false})));
      solver::SearchOptions recording;
      recording.record_leaves = true;
      const auto before = solver::search(model, recording);
      if (before.status != solver::SearchStatus::optimal) continue;
      for (int change = random.chance(0.5) ? 1 : 3; change > 0; --change) {
        const auto j = random.index(model.cost.size());
        model.cost[j] *= random.between(0.2, 1.5);
      }
      if (!model.rules.empty() && random.chance(0.5)) {
        const auto r = random.index(model.rules.size());
        model::set_limit(model, r, model.rules[r].limit * random.between(0.6, 2));
      }
      if (model.bins && random.chance(0.3)) ++*model.bins;
      if (!model.apart.empty() && random.chance(0.3))
        model.apart[random.index(model.apart.size())].active = false;
      solver::SearchOptions from_leaves;
      from_leaves.leaves = before.leaves;
      const auto fresh = solver::search(model);
      const auto continued = solver::search(model, from_leaves);
      CHECK(continued.status == fresh.status);
      if (fresh.status != solver::SearchStatus::optimal) {
        ++impossible;
        continue;
      }
      CHECK(continued.cost ==
            doctest::Approx(fresh.cost).epsilon(1e-9).scale(std::max(1.0, std::fabs(fresh.cost))));
      ++blends;
      fresh_programs += fresh.nodes;
      programs += continued.nodes;
      const double size = std::max(1.0, std::fabs(before.cost));
      from_leaves.cutoff = before.cost - 1e-6 * size;
      const bool cheaper = fresh.cost < before.cost - 2e-6 * size;
      const bool none = fresh.cost > before.cost;
      const auto below = solver::search(model, from_leaves);
      if (cheaper) CHECK(below.status == solver::SearchStatus::optimal);
      if (none) CHECK(below.status == solver::SearchStatus::infeasible);
      if (none) ++dearer_than_cutoff;
    }
    CHECK(blends > 300);
    CHECK(dearer_than_cutoff > 20);
    CHECK(impossible > 5);
    CHECK(programs < fresh_programs);
  }
}
