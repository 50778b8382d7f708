#include "solve/sensitivity/limit_walk.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "model/model.hpp"
#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;
using solve::BasisProgram;
using solve::LimitWalk;

namespace {

struct Asked {
  explicit Asked(const ScenarioDraft& draft)
      : model(model::build(Scenario(draft))), solution(solver::search(model)), program(solution) {}

  [[nodiscard]] std::size_t rule(RuleKind kind) const {
    for (std::size_t r = 0; r < model.rules.size(); ++r)
      if (model.rules[r].kind == kind) return r;
    FAIL("no such rule");
    return 0;
  }
  [[nodiscard]] LimitWalk walk(RuleKind kind, int direction) {
    const auto r = rule(kind);
    return {program, solve::moving_bounds(model, r, {}), model.rules[r].limit, direction, options};
  }

  model::Model model;
  solver::SearchOptions options{};
  solver::SearchResult solution;
  BasisProgram program;
};

/// Per hectare: 100 kg of N from a source with 46 % at 460 a tonne, and at most 30 % N, for which
/// a filler at 50 a tonne is added: of T = 10000 / p kg at p %, all but 217.4 kg are filler. The
/// cost is 100 + 0.05 (10000 / p - 217.4), until at 46 % none is left.
ScenarioDraft thinned_source() {
  ScenarioDraft d;
  d.materials = {stated("source", 460, {{"N", 46}}), stated("filler", 50, {{"Ca", 30}})};
  d.rates_kg_per_ha = {{"N", at_least(100)}};
  d.grade_percent = {{"N", at_most(30)}};
  return d;
}

}  // namespace

TEST_SUITE("limit walk") {
  TEST_CASE("a limit is followed from one basis to the next, up to where no blend is left") {
    Asked asked(carrier_and_filler());
    {
      auto up = asked.walk(RuleKind::grade, 1);
      const auto stretch = up.next();
      REQUIRE(stretch);
      CHECK(stretch->curve.at == 10);
      CHECK(stretch->curve.cost == doctest::Approx(137.5).epsilon(1e-13));
      CHECK(stretch->curve.price == doctest::Approx(8.75).epsilon(1e-13));
      CHECK(stretch->curve.curve == 0);
      CHECK(stretch->end == doctest::Approx(40).epsilon(1e-13));
      CHECK(up.x()[0] == doctest::Approx(1000).epsilon(1e-13));
      CHECK_FALSE(up.next());
      CHECK(up.ending() == LimitWalk::Ending::no_blend);
    }
    auto down = asked.walk(RuleKind::grade, -1);  // the first walk has put back what it moved
    const auto stretch = down.next();
    REQUIRE(stretch);
    CHECK(stretch->curve.price == doctest::Approx(8.75).epsilon(1e-13));
    CHECK(stretch->end == 0);
    const auto free = down.next();
    REQUIRE(free);
    CHECK(free->curve.price == 0);
    CHECK(down.ending() == LimitWalk::Ending::for_good);
  }

  TEST_CASE("where the limit moves coefficients, the cost follows its curve to the next basis") {
    Asked asked(thinned_source());
    const auto cost = [](double p) { return 100 + 0.05 * (10000 / p - 100 / 0.46); };
    auto up = asked.walk(RuleKind::grade, 1);
    const auto stretch = up.next();
    REQUIRE(stretch);
    CHECK(stretch->curve.price == doctest::Approx(-500.0 / 900).epsilon(1e-12));
    CHECK(stretch->curve.curve == doctest::Approx(1.0 / 30).epsilon(1e-12));
    CHECK(stretch->end == doctest::Approx(46).epsilon(1e-12));
    for (const double p : {31.0, 38.0, 46.0})
      CHECK(stretch->curve(p) == doctest::Approx(cost(p)).epsilon(1e-12));
    CHECK(stretch->curve.price_at(40) == doctest::Approx(-500.0 / 1600).epsilon(1e-12));
    const auto slack = up.next();
    REQUIRE(slack);
    CHECK(slack->curve.price == 0);
    CHECK(up.ending() == LimitWalk::Ending::for_good);
  }

  TEST_CASE("a walk is counted, and heeds a request to stop") {
    Asked asked(carrier_and_filler());
    asked.options.counter = std::make_shared<solver::SolveCounter>(
        solver::SolveCounter{.told = [](const Progress&) {}});
    {
      auto up = asked.walk(RuleKind::grade, 1);
      while (up.next()) {
      }
    }
    CHECK(asked.options.counter->solves > 0);
    std::stop_source stop;
    asked.options.stop = stop.get_token();
    stop.request_stop();
    auto up = asked.walk(RuleKind::grade, 1);
    CHECK_FALSE(up.next());
    CHECK(up.ending() == LimitWalk::Ending::unknown);
  }
}
