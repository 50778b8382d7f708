#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "insight/basis_step.hpp"
#include "insight/interval.hpp"
#include "insight/shadow_price.hpp"
#include "insight/undercut.hpp"
#include "solver/search.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"

// Limits whose coefficients move with them (grade, share, ratio, coating per hectare) under
// either-or rules: what is said of a stretch of limits, against fresh searches at limits within it.

using namespace leastwise;
using namespace leastwise::insight;
using namespace leastwise::support;

namespace {

/// A question whose best blend is known, with where its search ended.
struct Asked {
  explicit Asked(std::uint64_t seed)
      : model(
            model::build(Scenario(random_draft(seed, {.materials = 8 + static_cast<int>(seed % 40),
                                                      .basis = Basis::per_hectare,
                                                      .sabotage = 0,
                                                      .frills = false})))) {
    solver::SearchOptions recording;
    recording.record_leaves = true;
    solution = solver::search(model, recording);
    onward.leaves = solution.leaves;
  }
  Asked(const Asked&) = delete;
  Asked& operator=(const Asked&) = delete;

  [[nodiscard]] bool drifts_and_binds(std::size_t r) const {
    return model.rules[r].active && !model.rules[r].drift.empty() && is_binding(model, r, solution);
  }
  [[nodiscard]] solver::SearchResult at(std::size_t r, double limit) const {
    auto changed = model;
    model::set_limit(changed, r, limit);
    return solver::search(changed, onward);
  }

  model::Model model;
  solver::SearchResult solution{};
  solver::SearchOptions onward{};
};

}  // namespace

TEST_SUITE("undercut") {
  TEST_CASE("within its interval a drifting limit costs what its curve says") {
    int rules = 0;
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
      CAPTURE(seed);
      const Asked asked(seed);
      if (!asked.model.either_or() || asked.solution.status != solver::SearchStatus::optimal)
        continue;
      Random random(seed);
      for (std::size_t r = 0; r < asked.model.rules.size(); ++r) {
        if (!asked.drifts_and_binds(r)) continue;
        const auto interval = price_interval(asked.model, r, asked.solution, asked.onward);
        const auto reach = basis_step(asked.model, r, asked.solution);
        if (!interval.unique || !reach) continue;
        CAPTURE(r);
        ++rules;
        const double limit = asked.model.rules[r].limit;
        const CostCurve own{limit, asked.solution.cost,
                            shadow_price(asked.model, r, asked.solution), reach->curve};
        const double from = std::max(interval.from.value_or(0), limit / 10);
        const double to = std::min(interval.to.value_or(limit * 5), limit * 5);
        for (int k = 0; k < 10; ++k) {
          const double look = from + (to - from) * random.between(0.001, 0.999);
          const auto there = asked.at(r, look);
          CAPTURE(look);
          REQUIRE(there.status == solver::SearchStatus::optimal);
          CHECK(there.cost == doctest::Approx(own(look)).epsilon(1e-6));
        }
      }
    }
    CHECK(rules > 200);
  }

  TEST_CASE("a cheaper branch is found wherever fresh searches find one, and nowhere else") {
    int settled = 0;
    int cheaper = 0;
    int never = 0;
    int unsettled = 0;
    for (std::uint64_t seed = 1000; seed < 1400; ++seed) {
      CAPTURE(seed);
      const Asked asked(seed);
      if (!asked.model.either_or() || asked.solution.status != solver::SearchStatus::optimal)
        continue;
      Random random(seed);
      for (std::size_t r = 0; r < asked.model.rules.size(); ++r) {
        if (!asked.drifts_and_binds(r)) continue;
        const auto reach = basis_step(asked.model, r, asked.solution);
        if (!reach) continue;
        CAPTURE(r);
        const double limit = asked.model.rules[r].limit;
        const CostCurve own{limit, asked.solution.cost,
                            shadow_price(asked.model, r, asked.solution), reach->curve};
        const double last =
            limit * (random.chance(0.5) ? random.between(1.01, 1.6) : random.between(0.4, 0.99));
        if (1 + own.curve * (last - limit) <= 0.1) continue;  // near the pole of the curve
        const double tolerance = 1e-7 * std::max(1.0, std::fabs(own.cost));
        const auto undercut =
            find_undercut(asked.model, r, own, limit, last, tolerance, asked.onward);
        if (!undercut.settled) {
          ++unsettled;
          continue;
        }
        ++settled;
        if (undercut.limit) {
          ++cheaper;
          const auto there = asked.at(r, *undercut.limit);
          REQUIRE(there.status == solver::SearchStatus::optimal);
          CHECK(there.cost < own(*undercut.limit) - 0.9 * tolerance);
          continue;
        }
        ++never;
        for (int k = 0; k < 10; ++k) {
          const double look = limit + (last - limit) * random.between(0, 1);
          CAPTURE(look);
          const auto there = asked.at(r, look);
          if (there.status == solver::SearchStatus::optimal)
            CHECK(there.cost > own(look) - 1.1 * tolerance);
        }
      }
    }
    CHECK(cheaper > 20);
    CHECK(never > 200);
    CHECK(unsettled * 50 < settled);
  }
}
