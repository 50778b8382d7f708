#include "analysis/risk/risk_search.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "solver/certificate.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"

using namespace leastwise;
using namespace leastwise::analysis;
using doctest::Approx;

namespace {

std::vector<double> shaken(const model::Model& model, support::Random& random, double by) {
  auto cost = model.cost;
  for (double& c : cost) c *= random.between(1 - by, 1 + by);
  return cost;
}

}  // namespace

TEST_SUITE("price search") {
  TEST_CASE("every answer is the optimum that a search from scratch finds") {
    for (const bool either_or : {false, true})
      for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        CAPTURE(either_or);
        CAPTURE(seed);
        const auto scenario = support::random_scenario(
            seed, {.materials = 14, .either_or = either_or, .sabotage = 0, .frills = true});
        auto model = model::build(scenario);
        if (solver::search(model).status != solver::SearchStatus::optimal) continue;
        const PriceModel shared(model);
        const solver::SearchOptions options;
        PriceSearch search(shared, options);
        support::Random random(seed);
        for (int k = 0; k < 30; ++k) {
          const auto cost = shaken(model, random, 0.1 * (1 + k % 3));
          const auto answer = search.cheapest(cost);
          model::Model priced = model;
          priced.cost = cost;
          const auto wanted = solver::search(priced);
          REQUIRE(wanted.status == solver::SearchStatus::optimal);
          REQUIRE(answer.status == solver::SearchStatus::optimal);
          CHECK(std::fabs(answer.cost - wanted.cost) <=
                1e-9 * std::max(1.0, std::fabs(wanted.cost)));
          const auto& x = search.recipes()[answer.recipe];
          CHECK(solver::primal_violation(shared.data, x) < 1e-8);
        }
      }
  }

  TEST_CASE("hardly a draw takes a full search") {
    long searched = 0;
    long draws = 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
      const auto scenario = support::random_scenario(
          seed, {.materials = 20, .either_or = seed % 2 == 0, .sabotage = 0, .frills = false});
      const auto model = model::build(scenario);
      if (solver::search(model).status != solver::SearchStatus::optimal) continue;
      const PriceModel shared(model);
      const solver::SearchOptions options;
      PriceSearch search(shared, options);
      support::Random random(seed);
      for (int k = 0; k < 100; ++k) {
        searched += search.cheapest(shaken(model, random, 0.2)).searched ? 1 : 0;
        ++draws;
      }
    }
    CHECK(draws > 2000);
    CHECK(searched * 50 < draws);
  }

  TEST_CASE("the blend that has been of least use makes room") {
    CostTable table(2, 2);
    CHECK(table.add({1, 0}) == 0);
    CHECK(table.add({0, 1}) == 1);
    CHECK(table.cheapest({1, 2}) == 0);
    CHECK(table.cheapest({2, 1}) == 1);
    table.credit(0);
    CHECK(table.full());
    CHECK(table.add({0.25, 0.25}) == 1);
    CHECK(table.cheapest({2, 1}) == 1);
    CHECK(table.cheapest({0.1, 1}) == 0);
  }
}
