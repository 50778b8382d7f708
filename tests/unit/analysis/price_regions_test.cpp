#include <doctest/doctest.h>
#include <leastwise/price_map.hpp>
#include <leastwise/report.hpp>

#include <algorithm>
#include <stdexcept>

#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;

namespace {

/// Per hectare, N at least 60, from 46 % or 30 % material or a third at a fixed price: the plane of
/// the first two prices falls into three regions that meet where all cost the same per kg of N.
ScenarioDraft two_priced_carriers() {
  ScenarioDraft d;
  d.materials = {stated("rich", 460, {{"N", 46}}), stated("middling", 360, {{"N", 30}}),
                 stated("fixed", 300, {{"N", 20}})};  // 1.50 per kg N
  d.rates_kg_per_ha = {{"N", at_least(60)}};
  return d;
}

double area(const std::vector<PricePoint>& polygon) {
  double twice = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const auto& a = polygon[i];
    const auto& b = polygon[(i + 1) % polygon.size()];
    twice += a.first * b.second - b.first * a.second;
  }
  return twice / 2;
}

const PriceRegion* region_of(const PriceRegions& map, const std::string& material) {
  for (const auto& region : map.regions)
    if (region.blend.portions.size() == 1 && region.blend.portions[0].material == material)
      return &region;
  return nullptr;
}

bool has_corner(const PriceRegion& region, double first, double second) {
  return std::any_of(region.polygon.begin(), region.polygon.end(), [&](const PricePoint& p) {
    return std::abs(p.first - first) < 1e-6 && std::abs(p.second - second) < 1e-6;
  });
}

}  // namespace

TEST_SUITE("price map of two materials") {
  TEST_CASE("what is finished when it is stopped is proved, and the rest is said to be missing") {
    const Scenario scenario(two_priced_carriers());
    const Limits first{0, 1000};
    const Limits second{0, 900};
    const auto whole = price_regions(scenario, "rich", first, "middling", second);
    std::size_t in_part = 0;
    for (long most = 0; most < whole.solves; ++most) {
      std::stop_source source;
      long solved = 0;
      SolveOptions limits;
      limits.stop = source.get_token();
      limits.progress = [&](const Progress&) {
        if (++solved > most) source.request_stop();
      };
      const auto map = price_regions(scenario, "rich", first, "middling", second, limits);
      if (map.outcome.status == Status::optimal) continue;  // asked during the last solve
      REQUIRE(map.outcome.status == Status::stopped);
      const bool says_nothing =
          map.outcome.detail.find("nothing was finished") != std::string::npos;
      CHECK(says_nothing == map.regions.empty());
      CHECK(to_csv(map).find(",stopped\n") != std::string::npos);
      if (map.regions.empty()) continue;
      ++in_part;
      CHECK(to_svg(map).find("Stopped before the end") != std::string::npos);
      CHECK(to_text(map).find("finished") != std::string::npos);
      double known = 0;
      for (const auto& region : map.regions) {
        known += region.area_percent;
        PricePoint middle;
        for (const auto& p : region.polygon) {
          middle.first += p.first / static_cast<double>(region.polygon.size());
          middle.second += p.second / static_cast<double>(region.polygon.size());
        }
        const auto there = formulate(
            scenario.with_price("rich", middle.first).with_price("middling", middle.second));
        REQUIRE(there.blend());
        const auto& corner = region.polygon.front();
        CHECK(*region.blend.cost_per_ha + region.first_slope * (middle.first - corner.first) +
                  region.second_slope * (middle.second - corner.second) ==
              doctest::Approx(*there.blend()->cost_per_ha));
      }
      CHECK(known <= 100 + 1e-6);
    }
    CHECK(in_part > 0);
  }

  TEST_CASE("three carriers of one nutrient divide the plane as their price per kg says") {
    // rich up to 1.50 * 460 = 690 per tonne, middling up to 450; between them p / 0.46 = q / 0.30.
    const auto map =
        price_regions(Scenario(two_priced_carriers()), "rich", {0, 1000}, "middling", {0, 900});
    REQUIRE(map.outcome.status == Status::optimal);
    REQUIRE(map.regions.size() == 3);
    const auto* rich = region_of(map, "rich");
    const auto* middling = region_of(map, "middling");
    const auto* fixed = region_of(map, "fixed");
    REQUIRE((rich && middling && fixed));
    for (const auto* region : {rich, middling, fixed}) CHECK(has_corner(*region, 690, 450));
    CHECK(has_corner(*rich, 0, 0));
    CHECK(has_corner(*rich, 690, 900));
    CHECK(has_corner(*middling, 1000, 450));
    CHECK(has_corner(*fixed, 1000, 900));
    CHECK(area(fixed->polygon) == doctest::Approx(310.0 * 450).epsilon(1e-9));
    CHECK(area(middling->polygon) == doctest::Approx((1000 + 310) / 2.0 * 450).epsilon(1e-9));
    CHECK(rich->first_share_percent == doctest::Approx(100));
    CHECK(rich->second_slope == 0);
    double percent = 0;
    for (const auto& region : map.regions) percent += region.area_percent;
    CHECK(percent == doctest::Approx(100).epsilon(1e-9));
  }

  TEST_CASE("where neither price matters there is one region, the whole rectangle") {
    const auto map =
        price_regions(Scenario(two_priced_carriers()), "rich", {800, 900}, "middling", {500, 600});
    REQUIRE(map.regions.size() == 1);
    CHECK(map.regions[0].area_percent == doctest::Approx(100));
    CHECK(map.regions[0].polygon.size() == 4);
  }

  TEST_CASE("an impossible scenario has no regions but the conflict") {
    auto draft = carrier_and_filler();
    draft.grade_percent = {{"N", at_least(41)}};
    const auto map = price_regions(Scenario(draft), "carrier", {0, 10}, "filler", {0, 10});
    CHECK(map.outcome.status == Status::infeasible);
    CHECK(map.outcome.conflict);
    CHECK(map.regions.empty());
  }

  TEST_CASE("one material cannot have two prices") {
    const Scenario scenario(two_priced_carriers());
    CHECK_THROWS_AS((void)price_regions(scenario, "rich", {0, 1}, "rich", {0, 1}),
                    std::invalid_argument);
    CHECK_THROWS_AS((void)price_regions(scenario, "rich", {0, 1}, "nothing", {0, 1}),
                    std::out_of_range);
    CHECK_THROWS_AS((void)price_regions(scenario, "rich", {1, 0}, "fixed", {0, 1}),
                    std::invalid_argument);
  }
}
