#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/report.hpp>
#include <leastwise/risk.hpp>

#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include "analysis/risk/risk_draws.hpp"
#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/random.hpp"

using namespace leastwise;
using namespace leastwise::support;
using doctest::Approx;

namespace {

/// More under stop_check:  LEASTWISE_RISK_SCENARIOS=2000 property_tests -ts="price risk*"
std::uint64_t risk_scenarios() {
  const char* text = std::getenv("LEASTWISE_RISK_SCENARIOS");
  return text == nullptr ? 120 : std::strtoul(text, nullptr, 10);
}

/// A random scenario whose prices spread in all the ways there are.
Scenario uncertain_scenario(std::uint64_t seed, long draws) {
  ScenarioDraft draft = random_draft(seed, {.materials = 12, .sabotage = 0, .frills = false});
  const Scenario plain(draft);
  Random random(seed);
  draft.risk.emplace();
  draft.risk->draws = draws;
  draft.risk->seed = seed;
  for (const auto& material : plain.materials()) {
    if (material.price_per_t <= 0 || random.chance(0.3)) continue;
    PriceSpread spread;
    spread.material = material.name;
    spread.shape = static_cast<PriceShape>(random.index(3));
    spread.percent = random.between(1, 30);
    spread.min = material.price_per_t * 0.7;
    spread.mode = material.price_per_t * random.between(0.8, 1.2);
    spread.max = material.price_per_t * 1.5;
    draft.risk->prices.push_back(spread);
  }
  if (draft.risk->prices.size() > 1)
    draft.risk->correlations.push_back(
        {draft.risk->prices[0].material, draft.risk->prices[1].material, random.between(-1, 1)});
  return Scenario(draft);
}

/// Cost of today's blend when the prices are those drawn, from its portions alone.
double repriced(const Scenario& scenario, const Blend& blend, const std::vector<double>& prices) {
  double cost = cost_of(blend);
  for (const auto& portion : blend.portions) {
    const auto i = *scenario.index_of(portion.material);
    cost += portion.kg_per_ha.value_or(portion.kg_per_t) *
            (prices[i] - scenario.materials()[i].price_per_t) / 1000;
  }
  return cost;
}

}  // namespace

TEST_SUITE("price risk by brute force") {
  TEST_CASE("every number agrees with formulating anew at every draw") {
    constexpr long draws = 25;
    int compared = 0;
    for (std::uint64_t seed = 1; seed <= risk_scenarios(); ++seed) {
      CAPTURE(seed);
      const Scenario scenario = uncertain_scenario(seed, draws);
      if (scenario.price_uncertainty()->prices.empty()) continue;
      const auto today = formulate(scenario, {.intervals = false});
      const auto risk = price_risk(scenario);
      if (today.blend() == nullptr) {
        CHECK(risk.outcome.status != Status::optimal);
        continue;
      }
      REQUIRE(risk.outcome.status == Status::optimal);
      REQUIRE(risk.each.size() == static_cast<std::size_t>(draws));
      analysis::PriceDraws drawing(scenario, *scenario.price_uncertainty());
      std::vector<double> prices;
      double fixed = 0;
      double cheapest = 0;
      for (std::size_t n = 0; n < risk.each.size(); ++n) {
        CAPTURE(n);
        drawing.draw(n, prices);
        Scenario drawn = scenario;
        for (std::size_t i = 0; i < prices.size(); ++i)
          drawn = drawn.with_price(scenario.materials()[i].name, prices[i]);
        const auto answer = formulate(drawn, {.intervals = false});
        REQUIRE(answer.blend());
        const double wanted = cost_of(*answer.blend());
        CHECK(std::fabs(risk.each[n].reoptimised_cost - wanted) <=
              1e-9 * std::max(1.0, std::fabs(wanted)));
        const double same = repriced(scenario, *today.blend(), prices);
        CHECK(std::fabs(risk.each[n].fixed_cost - same) <= 1e-9 * std::max(1.0, std::fabs(same)));
        // The recipe it is put down to has that cost.
        double cost = 0;
        for (const auto& portion : risk.recipes[risk.each[n].recipe].portions)
          cost += portion.kg_per_ha.value_or(portion.kg_per_t) *
                  drawn.cost_per_kg(*drawn.index_of(portion.material));
        CHECK(cost == Approx(wanted).epsilon(1e-8));
        fixed += same / draws;
        cheapest += wanted / draws;
        ++compared;
      }
      CHECK(risk.fixed.mean == Approx(fixed).epsilon(1e-9));
      CHECK(risk.reoptimised.mean == Approx(cheapest).epsilon(1e-9));
      CHECK(risk.flexibility.mean == Approx(fixed - cheapest).epsilon(1e-7));
    }
    CHECK(compared > static_cast<int>(risk_scenarios()) * 10);
  }

  TEST_CASE("one, two and eight threads give the same bytes") {
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
      CAPTURE(seed);
      const Scenario scenario = uncertain_scenario(seed, 700);
      if (scenario.price_uncertainty()->prices.empty()) continue;
      const auto alone = price_risk(scenario, {.threads = 1});
      const std::string json = to_json(alone);
      const std::string csv = to_csv(alone);
      for (const unsigned threads : {2U, 8U}) {
        const auto many = price_risk(scenario, {.threads = threads});
        CHECK(to_json(many) == json);
        CHECK(to_csv(many) == csv);
      }
    }
  }
}
