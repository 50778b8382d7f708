// The alloy charge of the GLPK reference manual (problem PLAN, its sensitivity report): the ends of
// its cost ranges are breakpoints of price maps, those of its activity ranges kinks of limit maps.
#include <doctest/doctest.h>
#include <leastwise/limit_map.hpp>
#include <leastwise/price_map.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "reference/lp/published_program.hpp"
#include "support/csv.hpp"

using namespace leastwise;
using namespace leastwise::support;

namespace {

/// name -> quantity -> value, as printed.
std::map<std::string, std::map<std::string, double>> published(const std::string& kind) {
  std::map<std::string, std::map<std::string, double>> figures;
  for (const auto& line : read_reference("lp_published_ranges.csv"))
    if (line.at("problem") == "plan_alloy" && line.at("kind") == kind)
      figures[line.at("name")][line.at("quantity")] = std::stod(line.at("value"));
  return figures;
}

const PriceBand* band_at(const PriceMap& map, double price) {
  for (const auto& band : map.bands)
    if (price > band.from && price < band.to) return &band;
  return nullptr;
}

/// The report prints five decimals.
bool as_printed(double ours, double printed, double scale = 1) {
  return std::fabs(ours - printed) <= 0.6e-5 * scale;
}

}  // namespace

TEST_CASE("the published cost ranges of the alloy charge are the bands of its price maps") {
  const auto alloy = recast(published_program("plan_alloy"));
  REQUIRE(alloy);
  const Scenario scenario(alloy->draft);
  const double per_t = 1000 / alloy->kg_per_unit;  // price per tonne for a cost per pound of 1
  int ends = 0;
  for (const auto& [column, figures] : published("column")) {
    const std::string name = "good " + column;
    if (figures.count("cost_to") == 0) continue;
    const auto& material = scenario.materials()[*scenario.index_of(name)];
    INFO(name);
    const auto map = price_map(scenario, name, 0, 3 * material.price_per_t);
    REQUIRE(map.outcome.status == Status::optimal);
    const auto* band = band_at(map, material.price_per_t);
    REQUIRE(band);
    CHECK(as_printed(band->from / per_t, figures.at("cost_from")));
    CHECK(as_printed(band->to / per_t, figures.at("cost_to")));
    CHECK(as_printed(band->cost_from, figures.at("obj_at_cost_from")));
    CHECK(as_printed(band->cost_to, figures.at("obj_at_cost_to")));
    ends += 2;
  }
  CHECK(ends == 10);
}

TEST_CASE("the published activity ranges of the alloy charge are pieces of its limit maps") {
  const auto alloy = recast(published_program("plan_alloy"));
  REQUIRE(alloy);
  const Scenario scenario(alloy->draft);
  int rows = 0;
  for (const auto& [row, figures] : published("row")) {
    const std::string& name = row;
    const auto rule = alloy->rule_of_row.find(name);
    if (rule == alloy->rule_of_row.end()) continue;
    INFO(name, " is ", rule->second);
    const double unit = alloy->unit_of_row.at(name);
    const double from = figures.at("rhs_from"), to = figures.at("rhs_to");
    const auto map =
        limit_map(scenario, rule->second, (from - (to - from)) * unit, (to + (to - from)) * unit);
    if (!map.exact) continue;
    const auto kink = [&](double limit) {
      return std::find_if(map.points.begin(), map.points.end(), [&](const LimitPoint& point) {
        return as_printed(point.limit / unit, limit);
      });
    };
    const auto left = kink(from), right = kink(to);
    REQUIRE(left != map.points.end());
    REQUIRE(right != map.points.end());
    CHECK(as_printed(*left->cost, figures.at("obj_at_from")));
    CHECK(as_printed(*right->cost, figures.at("obj_at_to")));
    CHECK(as_printed(*left->marginal_cost_after * unit, figures.at("dual")));
    ++rows;
  }
  CHECK(rows >= 4);
}
