// Price maps of random scenarios, either-or rules included, against two general mixed-integer
// solvers (COIN-OR CBC, GLPK) on both sides of every breakpoint.
#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/price_map.hpp>

#include <algorithm>
#include <cmath>

#include "property/landscape/relative_distance.hpp"
#include "support/audit.hpp"
#include "support/generator.hpp"
#include "support/peers/mixed_integer.hpp"
#include "support/random.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// The materials of the cheapest blend and one more that may enter.
std::vector<std::string> worth_asking(const Scenario& scenario, const Blend& blend) {
  std::vector<std::string> names;
  for (const auto& portion : blend.portions) names.push_back(portion.material);
  for (const auto& material : scenario.materials())
    if (material.can_enter() && material.price_per_t > 0 &&
        std::find(names.begin(), names.end(), material.name) == names.end()) {
      names.push_back(material.name);
      break;
    }
  return names;
}

double cost_at(const PriceMap& map, double price) {
  for (const auto& band : map.bands)
    if (price >= band.from && price <= band.to)
      return band.cost_from + band.cost_slope * (price - band.from);
  return std::numeric_limits<double>::quiet_NaN();
}

double peer_cost(const Scenario& scenario, Peer peer) {
  const auto answer = solve_with_peer(read(scenario), peer);
  return answer.status == PeerStatus::optimal ? answer.cost
                                              : std::numeric_limits<double>::quiet_NaN();
}

/// Counts what a run has really looked at, so that an empty one fails.
struct Seen {
  int maps = 0;
  int breakpoints = 0;
};

void check_map(const Scenario& scenario, const std::string& material, bool ask_peers, Seen& seen) {
  const double now = scenario.materials()[*scenario.index_of(material)].price_per_t;
  if (now <= 0) return;
  const double from = now / 4, to = now * 3;
  const auto map = price_map(scenario, material, from, to);
  INFO("material ", material);
  REQUIRE(map.outcome.status == Status::optimal);
  REQUIRE(!map.bands.empty());
  ++seen.maps;
  CHECK(map.bands.front().from == from);
  CHECK(map.bands.back().to == to);
  const auto breakpoints = static_cast<long>(map.bands.size()) - 1;
  CHECK(map.solves <= std::max(2L, 2 * breakpoints + 1));
  for (std::size_t k = 0; k + 1 < map.bands.size(); ++k) {
    const auto& left = map.bands[k];
    const auto& right = map.bands[k + 1];
    ++seen.breakpoints;
    CHECK(left.to == right.from);
    CHECK(left.cost_slope > right.cost_slope);  // concave: dearer, so less of it
    CHECK(relative_distance(left.cost_to, right.cost_from) < 1e-8);
    if (!ask_peers) continue;
    const double step = 1e-3 * std::min(left.to - left.from, right.to - right.from);
    for (const double price : {left.to - step, left.to + step})
      for (const Peer peer : {Peer::cbc, Peer::glpk}) {
        const double theirs = peer_cost(scenario.with_price(material, price), peer);
        if (!std::isnan(theirs)) CHECK(relative_distance(cost_at(map, price), theirs) < 1e-6);
      }
  }
  for (const auto& band : map.bands) {
    const double middle = (band.from + band.to) / 2;
    const auto answer = formulate(scenario.with_price(material, middle), {.intervals = false});
    REQUIRE(answer.blend());
    CHECK(relative_distance(cost_at(map, middle), cost_of(*answer.blend())) < 1e-8);
    CHECK(relative_distance(cost_of(band.blend), band.cost_from) < 1e-8);
    CHECK(audit(read(scenario), amounts_of(scenario, band.blend)).passes());
  }
}

void check_seeds(std::uint64_t first, std::uint64_t last, const ScenarioKind& kind, bool ask_peers,
                 Seen& seen) {
  for (std::uint64_t seed = first; seed < last; ++seed) {
    const auto scenario = random_scenario(seed, kind);
    const auto answer = formulate(scenario, {.intervals = false});
    if (!answer.blend()) continue;
    INFO("seed ", seed);
    for (const auto& material : worth_asking(scenario, *answer.blend()))
      check_map(scenario, material, ask_peers, seen);
  }
}

}  // namespace

TEST_CASE("every breakpoint of a price map is confirmed by CBC and GLPK on both sides") {
  Seen seen;
  check_seeds(1, 16, {.materials = 12, .sabotage = 0}, true, seen);
  CHECK(seen.maps > 30);
  CHECK(seen.breakpoints > 50);
}

TEST_CASE("price maps need at most 2k + 1 solves for k breakpoints and agree with single solves") {
  Seen seen;
  check_seeds(100, 140, {.materials = 25, .either_or = false, .sabotage = 0}, false, seen);
  check_seeds(200, 240, {.materials = 25, .sabotage = 0}, false, seen);
  CHECK(seen.breakpoints > 400);
}

TEST_CASE("regions of two prices cover the rectangle and agree with CBC at random prices") {
  int regions = 0;
  for (std::uint64_t seed = 300; seed < 320; ++seed) {
    const auto scenario = random_scenario(seed, {.materials = 12, .sabotage = 0});
    const auto answer = formulate(scenario, {.intervals = false});
    if (!answer.blend() || answer.blend()->portions.size() < 2) continue;
    const auto& first = answer.blend()->portions[0].material;
    const auto& second = answer.blend()->portions[1].material;
    const double p = scenario.materials()[*scenario.index_of(first)].price_per_t;
    const double q = scenario.materials()[*scenario.index_of(second)].price_per_t;
    if (p <= 0 || q <= 0) continue;
    INFO("seed ", seed, ' ', first, ' ', second);
    const auto map = price_regions(scenario, first, {p / 2, p * 2}, second, {q / 2, q * 2});
    REQUIRE(map.outcome.status == Status::optimal);
    double percent = 0;
    for (const auto& region : map.regions) percent += region.area_percent;
    CHECK(percent == doctest::Approx(100).epsilon(1e-6));
    regions += static_cast<int>(map.regions.size());
    Random random(seed);
    for (int draw = 0; draw < 6; ++draw) {
      const double at_p = random.between(p / 2, p * 2);
      const double at_q = random.between(q / 2, q * 2);
      double ours = std::numeric_limits<double>::infinity();
      for (const auto& region : map.regions) {
        const auto& corner = region.polygon.front();
        ours = std::min(ours, cost_of(region.blend) + region.first_slope * (at_p - corner.first) +
                                  region.second_slope * (at_q - corner.second));
      }
      const auto there = scenario.with_price(first, at_p).with_price(second, at_q);
      const double theirs = peer_cost(there, Peer::cbc);
      if (!std::isnan(theirs)) CHECK(relative_distance(ours, theirs) < 1e-6);
    }
  }
  CHECK(regions > 40);
}
