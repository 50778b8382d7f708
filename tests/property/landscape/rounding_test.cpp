// Blends in steps of the scale against every blend on a coarse grid.
#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/rounding.hpp>

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include "support/audit.hpp"
#include "support/generator.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// Calls `visit` with every way to share `steps` among the materials that may enter.
void for_each_sharing(const Reading& reading, int steps, double step_kg,
                      const std::function<void(const std::vector<double>&)>& visit) {
  std::vector<double> kg(reading.size(), 0.0);
  const std::function<void(std::size_t, int)> share = [&](std::size_t i, int left) {
    if (i == reading.size()) {
      if (left == 0) visit(kg);
      return;
    }
    for (int n = 0; n <= (reading.enters[i] ? left : 0); ++n) {
      kg[i] = n * step_kg;
      share(i + 1, left - n);
    }
    kg[i] = 0;
  };
  share(0, steps);
}

std::vector<double> amounts(const Scenario& scenario, const RoundedBlend& blend) {
  std::vector<double> kg(scenario.materials().size(), 0.0);
  for (const auto& portion : blend.portions)
    kg[*scenario.index_of(portion.material)] = portion.kg_per_batch;
  return kg;
}

}  // namespace

TEST_CASE("in steps of a tenth of a tonne nothing on the grid is cheaper, tried one by one") {
  int obeying = 0, drifting = 0;
  for (std::uint64_t seed = 1; seed < 160; ++seed) {
    const auto scenario =
        random_scenario(seed, {.materials = 5, .basis = Basis::per_tonne, .sabotage = 0});
    const auto reading = read(scenario);
    bool powders = false;
    for (std::size_t i = 0; i < reading.size(); ++i)
      powders = powders || (reading.enters[i] && !reading.granule[i]);
    if (powders || !formulate(scenario, {.intervals = false}).blend()) continue;
    INFO("seed ", seed);
    for (const int steps : {10, 16}) {
      const double step = 1000.0 / steps;
      double cheapest = std::numeric_limits<double>::infinity();
      for_each_sharing(reading, steps, step, [&](const std::vector<double>& kg) {
        if (audit(reading, kg).passes()) cheapest = std::min(cheapest, reading.cost(kg));
      });
      const auto blend = round_to_step(scenario, {.step_kg = step});
      REQUIRE(blend.outcome.status == Status::optimal);
      CHECK(blend.proved);
      CHECK(*blend.batch_kg == doctest::Approx(1000).epsilon(1e-12));
      CHECK(blend.feasible == std::isfinite(cheapest));
      const auto kg = amounts(scenario, blend);
      if (blend.feasible) {
        ++obeying;
        CHECK(*blend.cost == doctest::Approx(cheapest).epsilon(1e-9));
        CHECK(audit(reading, kg).passes());
      } else {
        ++drifting;
        CHECK(!blend.violations.empty());
        CHECK_FALSE(audit(reading, kg).passes());
      }
    }
  }
  CHECK(obeying > 10);
  CHECK(drifting > 10);
}

TEST_CASE("a blend exists, so a grid of half a kilogram never ends at a loss for numbers") {
  int checked = 0;
  for (std::uint64_t seed = 1; seed <= 64; ++seed) {
    const auto scenario = random_scenario(seed, {.materials = 20, .sabotage = 0});
    if (!formulate(scenario, {.intervals = false}).blend()) continue;
    INFO("seed ", seed);
    const auto blend = round_to_step(scenario, {.step_kg = 0.5, .most_solves = 300});
    CHECK(blend.outcome.status == Status::optimal);
    ++checked;
  }
  CHECK(checked > 40);
}

TEST_CASE("a fine grid costs hardly more than none, obeys every rule and is whole") {
  int checked = 0, proved = 0;
  for (std::uint64_t seed = 400; seed < 440; ++seed) {
    const auto scenario =
        random_scenario(seed, {.materials = 15, .basis = Basis::per_tonne, .sabotage = 0});
    const bool exact = std::any_of(scenario.grades().begin(), scenario.grades().end(),
                                   [](const Target& t) { return t.limits.exact(); });
    if (exact || !formulate(scenario, {.intervals = false}).blend()) continue;
    INFO("seed ", seed);
    const auto blend = round_to_step(scenario, {.step_kg = 0.5, .most_solves = 20000});
    if (!blend.feasible) continue;
    ++checked;
    if (blend.proved) ++proved;
    CHECK(*blend.batch_kg == doctest::Approx(1000).epsilon(1e-12));
    for (const auto& portion : blend.portions)
      CHECK(std::remainder(portion.kg_per_batch, 0.5) == doctest::Approx(0).epsilon(1e-9));
    CHECK(std::remainder(blend.binder->kg_per_batch, 0.5) == doctest::Approx(0).epsilon(1e-9));
    const double asked = blend.binder->exact_kg_per_batch;
    if (asked > 0 && asked < 0.25)
      CHECK(blend.binder->kg_per_batch == doctest::Approx(0.5));  // never none
    else
      CHECK(std::fabs(blend.binder->kg_per_batch - asked) <= 0.25 + 1e-9);
    CHECK(*blend.lower_bound <= *blend.cost + 1e-9 * std::fabs(*blend.cost));
    // Half a step of every good at the dearest price and of the binder bounds the rise.
    CHECK(*blend.cost <= *blend.exact_cost + 0.05 * std::fabs(*blend.exact_cost) + 10);
  }
  CHECK(checked > 10);
  CHECK(proved * 10 > checked * 9);
}

TEST_CASE("a grade to be met exactly is met on the grid, or shown to be met by nothing there") {
  int checked = 0, settled = 0, none = 0;
  for (std::uint64_t seed = 400; seed < 440; ++seed) {
    const auto scenario =
        random_scenario(seed, {.materials = 15, .basis = Basis::per_tonne, .sabotage = 0});
    const bool exact = std::any_of(scenario.grades().begin(), scenario.grades().end(),
                                   [](const Target& t) { return t.limits.exact(); });
    if (!exact || !formulate(scenario, {.intervals = false}).blend()) continue;
    for (const double step : {0.5, 5.0, 25.0}) {
      INFO("seed ", seed, " step ", step);
      const auto blend = round_to_step(scenario, {.step_kg = step, .most_solves = 10000});
      ++checked;
      if (blend.feasible || blend.proven_infeasible) ++settled;
      if (blend.proven_infeasible) ++none;
      CHECK(blend.outcome.status == Status::optimal);
      CHECK_FALSE((blend.feasible && blend.proven_infeasible));
      CHECK((blend.feasible || !blend.proved || blend.proven_infeasible));
      for (const auto& portion : blend.portions)
        CHECK(std::remainder(portion.kg_per_batch, step) == doctest::Approx(0).epsilon(1e-9));
    }
  }
  MESSAGE(checked, " checked, ", settled, " settled, ", none, " without a blend");
  CHECK(checked > 20);
  CHECK(none > 5);
  CHECK(settled * 3 > checked * 2);
}
