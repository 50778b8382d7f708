#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/report.hpp>

#include <limits>
#include <stdexcept>

#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

/// Per hectare, N at least 60: three carriers of N alone, so the cheapest per kg of N wins alone.
/// 46 % at 460 is 1.00 per kg N; 30 % at 360 is 1.20; 20 % at 300 is 1.50.
ScenarioDraft three_carriers_in_crowns() {
  ScenarioDraft d;
  d.currency = "crowns";
  d.materials = {stated("rich", 460, {{"N", 46}}), stated("middling", 360, {{"N", 30}}),
                 stated("poor", 300, {{"N", 20}})};
  d.rates_kg_per_ha = {{"N", at_least(60)}};
  return d;
}

/// Per tonne: N at least 10 % from a carrier (40 %, 400), a weak one (20 %, priced by the map) and
/// filler at 50. With weak w kg and carrier c kg: 0.4 c + 0.2 w = 100, rest filler.
/// All carrier: c = 250, cost 100 + 37.50 = 137.50. All weak: w = 500, cost 0.5 p + 25.
/// They cost the same at p = 225. Below 50 weak is cheaper than filler and fills the whole tonne.
ScenarioDraft weak_or_strong() {
  ScenarioDraft d = carrier_and_filler();
  d.materials.push_back(stated("weak", 300, {{"N", 20}}));
  return d;
}

}  // namespace

TEST_SUITE("price map of one material") {
  TEST_CASE("a material gives way to another where a kg of nutrient costs the same in both") {
    const auto map = price_map(Scenario(three_carriers_in_crowns()), "rich", 0, 1000);
    REQUIRE(map.outcome.status == Status::optimal);
    REQUIRE(map.bands.size() == 2);
    // Cheapest up to 1.20 per kg N, which is 552 per tonne; then the second-best carrier.
    CHECK(map.bands[0].from == 0);
    CHECK(map.bands[0].to == doctest::Approx(552).epsilon(1e-12));
    CHECK(map.bands[1].from == map.bands[0].to);
    CHECK(map.bands[1].to == 1000);
    CHECK(map.bands[0].share_percent == doctest::Approx(100));
    CHECK(map.bands[0].cost_slope == doctest::Approx(60 / 0.46 / 1000));
    CHECK(map.bands[0].cost_from == doctest::Approx(0));
    CHECK(map.bands[0].cost_to == doctest::Approx(72));
    CHECK(map.bands[1].cost_slope == 0);
    CHECK(map.bands[1].cost_to == doctest::Approx(72));
    CHECK(map.solves <= 3);
    REQUIRE(map.bands[0].blend.portions.size() == 1);
    CHECK(map.bands[0].blend.portions[0].material == "rich");
  }

  TEST_CASE("in a tonne the change comes where both recipes cost the same, filler included") {
    const auto map = price_map(Scenario(weak_or_strong()), "weak", 0, 600);
    REQUIRE(map.bands.size() == 3);
    CHECK(map.bands[0].to == doctest::Approx(50).epsilon(1e-12));
    CHECK(map.bands[0].share_percent == doctest::Approx(100));
    CHECK(map.bands[0].cost_from == doctest::Approx(0));
    CHECK(map.bands[1].to == doctest::Approx(225).epsilon(1e-12));
    CHECK(map.bands[1].share_percent == doctest::Approx(50));
    CHECK(map.bands[1].cost_from == doctest::Approx(50));
    CHECK(map.bands[2].cost_from == doctest::Approx(137.5));
    CHECK(map.solves <= 5);
  }

  TEST_CASE("a material that is never worth its price makes one band from one solve") {
    const auto map = price_map(Scenario(three_carriers_in_crowns()), "poor", 250, 900);
    REQUIRE(map.bands.size() == 1);
    CHECK(map.bands[0].cost_slope == 0);
    CHECK(map.solves == 1);
  }

  TEST_CASE("a material without a rival makes one straight band") {
    auto draft = carrier_and_filler();
    const auto map = price_map(Scenario(draft), "carrier", 100, 900);
    REQUIRE(map.bands.size() == 1);
    CHECK(map.bands[0].cost_slope == doctest::Approx(0.25));
    CHECK(map.solves == 2);
  }

  TEST_CASE("an either-or rule keeps the map concave and exact") {
    // At most two bins: carrier with filler, or weak with filler; never all three.
    auto draft = weak_or_strong();
    draft.bins = 2;
    const auto map = price_map(Scenario(draft), "weak", 0, 600);
    REQUIRE(map.bands.size() == 3);
    CHECK(map.bands[1].to == doctest::Approx(225).epsilon(1e-12));
  }

  TEST_CASE("a price below zero may be asked about when the total is bounded") {
    const auto map = price_map(Scenario(carrier_and_filler()), "filler", -100, 100);
    REQUIRE(map.outcome.status == Status::optimal);
    CHECK(map.bands.front().cost_from ==
          doctest::Approx(formulate(Scenario(carrier_and_filler()).with_price("filler", -100))
                              .blend()
                              ->cost_per_t));
  }

  TEST_CASE("an impossible scenario has no map but the conflict") {
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", at_least(41)}};
    const auto map = price_map(Scenario(draft), "carrier", 0, 100);
    CHECK(map.outcome.status == Status::infeasible);
    REQUIRE(map.outcome.conflict);
    CHECK(map.outcome.conflict->rules.front().rule == "grade N min");
    CHECK(map.bands.empty());
  }

  TEST_CASE("a request to stop leaves what is proved and says that the rest is missing") {
    std::stop_source source;
    source.request_stop();
    const auto map =
        price_map(Scenario(three_carriers_in_crowns()), "rich", 0, 1000, {{}, source.get_token()});
    CHECK(map.outcome.status == Status::stopped);
    CHECK(map.outcome.cause == StopCause::cancelled);
    CHECK(map.bands.empty());
    CHECK(map.outcome.detail == "stopped on request; nothing was finished by then");
    CHECK(to_csv(map).ends_with(",,,,,,,,,stopped\n"));
    CHECK(to_svg(map).find("nothing was finished") != std::string::npos);
  }

  TEST_CASE("questions that make no sense are refused") {
    const Scenario scenario(three_carriers_in_crowns());
    CHECK_THROWS_AS((void)price_map(scenario, "richer", 0, 10), std::out_of_range);
    CHECK_THROWS_AS((void)price_map(scenario, "rich", 10, 10), std::invalid_argument);
    CHECK_THROWS_AS((void)price_map(scenario, "rich", 20, 10), std::invalid_argument);
    CHECK_THROWS_AS((void)price_map(scenario, "rich", -5, 10), std::invalid_argument);
    CHECK_THROWS_AS((void)price_map(scenario, "rich", 0, std::numeric_limits<double>::infinity()),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)price_map(scenario, "rich", std::numeric_limits<double>::quiet_NaN(), 10),
                    std::invalid_argument);
  }
}
