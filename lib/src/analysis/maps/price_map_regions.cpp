#include <leastwise/price_map.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "analysis/maps/price_lines.hpp"

namespace leastwise {
namespace {

using analysis::PricedScenario;
using analysis::Recipe;
using Polygon = std::vector<PricePoint>;

/// Polygons are clipped in coordinates that run from 0 to 1 along each side of the rectangle.
constexpr double same_place = 1e-9;
/// A region smaller than this share of the rectangle is a line or a point, not a region.
constexpr double no_area = 1e-10;

struct Plane {
  double fixed = 0;
  double u = 0;
  double v = 0;
  [[nodiscard]] double at(const PricePoint& p) const { return fixed + u * p.first + v * p.second; }
};

/// The part of `polygon` in which `own` costs no more than `other`.
Polygon clipped(const Polygon& polygon, const Plane& own, const Plane& other) {
  Polygon kept;
  const auto excess = [&](const PricePoint& p) { return own.at(p) - other.at(p); };
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const PricePoint& here = polygon[i];
    const PricePoint& next = polygon[(i + 1) % polygon.size()];
    const double a = excess(here);
    const double b = excess(next);
    if (a <= 0) kept.push_back(here);
    if ((a < 0 && b > 0) || (a > 0 && b < 0)) {
      const double share = a / (a - b);
      kept.push_back({here.first + share * (next.first - here.first),
                      here.second + share * (next.second - here.second)});
    }
  }
  return kept;
}

bool together(const PricePoint& a, const PricePoint& b) {
  return std::fabs(a.first - b.first) <= same_place && std::fabs(a.second - b.second) <= same_place;
}

double area(const Polygon& polygon) {
  double twice = 0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const auto& a = polygon[i];
    const auto& b = polygon[(i + 1) % polygon.size()];
    twice += a.first * b.second - b.first * a.second;
  }
  return twice / 2;
}

/// Without corners that lie on one another, starting at the lowest of the left ones.
Polygon tidied(const Polygon& polygon) {
  Polygon out;
  for (const auto& p : polygon)
    if (out.empty() || !together(out.back(), p)) out.push_back(p);
  while (out.size() > 1 && together(out.front(), out.back())) out.pop_back();
  const auto first =
      std::min_element(out.begin(), out.end(), [](const PricePoint& a, const PricePoint& b) {
        return a.first != b.first ? a.first < b.first : a.second < b.second;
      });
  std::rotate(out.begin(), first, out.end());
  return out;
}

class RegionFinder {
 public:
  RegionFinder(PricedScenario& priced, const Limits& first, const Limits& second)
      : priced_(priced), first_(first), second_(second) {}

  /// Returns: false when a limit struck, or there is no blend at all.
  bool run();
  /// Largest first. Before the end: those with no corner that is still to be solved, for between
  /// proved corners concavity leaves nothing cheaper.
  [[nodiscard]] std::vector<PriceRegion> regions() const;

 private:
  [[nodiscard]] std::vector<double> prices_at(const PricePoint& p) const {
    return {first_.min + p.first * (first_.max - first_.min),
            second_.min + p.second * (second_.max - second_.min)};
  }
  void add(const Recipe& recipe);
  [[nodiscard]] double known_cost(const PricePoint& p) const;
  [[nodiscard]] Polygon polygon_of(std::size_t k) const;
  bool confirm(const PricePoint& corner, bool& found_cheaper);
  [[nodiscard]] bool confirmed(const PricePoint& corner) const;

  PricedScenario& priced_;
  Limits first_;
  Limits second_;
  std::vector<Recipe> recipes_{};
  std::vector<Plane> planes_{};
  std::vector<PricePoint> confirmed_{};
};

void RegionFinder::add(const Recipe& recipe) {
  const double width = first_.max - first_.min;
  const double height = second_.max - second_.min;
  recipes_.push_back(recipe);
  planes_.push_back({recipe.cost_at({first_.min, second_.min}), recipe.slope[0] * width,
                     recipe.slope[1] * height});
}

double RegionFinder::known_cost(const PricePoint& p) const {
  double cost = model::infinity;
  for (const auto& plane : planes_) cost = std::min(cost, plane.at(p));
  return cost;
}

Polygon RegionFinder::polygon_of(std::size_t k) const {
  Polygon polygon{{0, 0}, {1, 0}, {1, 1}, {0, 1}};
  for (std::size_t other = 0; other < planes_.size() && !polygon.empty(); ++other)
    if (other != k) polygon = clipped(polygon, planes_[k], planes_[other]);
  return tidied(polygon);
}

bool RegionFinder::confirm(const PricePoint& corner, bool& found_cheaper) {
  const double known = known_cost(corner);
  const double cutoff =
      std::isfinite(known) ? known - solve::cost_tolerance(known) : model::infinity;
  const auto cheaper = priced_.cheapest(prices_at(corner), cutoff);
  if (priced_.stopped()) return false;
  found_cheaper = cheaper.has_value();
  if (cheaper) add(*cheaper);
  // Either way the least cost at this corner is known from now on.
  confirmed_.push_back(corner);
  return cheaper.has_value() || std::isfinite(known);
}

bool RegionFinder::confirmed(const PricePoint& corner) const {
  return std::any_of(confirmed_.begin(), confirmed_.end(),
                     [&](const PricePoint& p) { return together(p, corner); });
}

bool RegionFinder::run() {
  bool found_cheaper = false;
  if (!confirm({0, 0}, found_cheaper)) return false;
  for (bool complete = false; !complete;) {
    complete = true;
    for (std::size_t k = 0; complete && k < planes_.size(); ++k) {
      for (const auto& corner : polygon_of(k)) {
        if (confirmed(corner)) continue;
        if (!confirm(corner, found_cheaper)) return false;
        if (!found_cheaper) continue;
        complete = false;  // the polygons have changed
        break;
      }
    }
  }
  return true;
}

std::vector<PriceRegion> RegionFinder::regions() const {
  std::vector<PriceRegion> list;
  for (std::size_t k = 0; k < recipes_.size(); ++k) {
    const Polygon polygon = polygon_of(k);
    const double share = polygon.size() < 3 ? 0 : area(polygon);
    if (share <= no_area) continue;
    if (!std::all_of(polygon.begin(), polygon.end(),
                     [&](const PricePoint& p) { return confirmed(p); }))
      continue;
    PriceRegion region;
    for (const auto& p : polygon) {
      const auto prices = prices_at(p);
      region.polygon.push_back({prices[0], prices[1]});
    }
    region.area_percent = share * 100;
    region.first_slope = recipes_[k].slope[0];
    region.second_slope = recipes_[k].slope[1];
    region.first_share_percent = priced_.share_percent(recipes_[k], 0);
    region.second_share_percent = priced_.share_percent(recipes_[k], 1);
    region.blend = priced_.blend_at(recipes_[k], prices_at(polygon.front()));
    list.push_back(std::move(region));
  }
  std::stable_sort(list.begin(), list.end(), [](const PriceRegion& a, const PriceRegion& b) {
    return a.area_percent > b.area_percent;
  });
  return list;
}

}  // namespace

PriceRegions price_regions(const Scenario& scenario, std::string_view first,
                           const Limits& first_range, std::string_view second,
                           const Limits& second_range, const SolveOptions& limits) {
  PricedScenario priced(scenario, {first, second}, limits);
  if (first == second)
    throw std::invalid_argument("a map of two prices needs two different materials");
  analysis::require_price_range(scenario, first_range.min, first_range.max);
  analysis::require_price_range(scenario, second_range.min, second_range.max);
  PriceRegions map;
  map.title = scenario.title();
  map.currency = scenario.currency();
  map.units = scenario.draft().units;
  map.basis = scenario.basis();
  map.notes.assign(scenario.notes().begin(), scenario.notes().end());
  map.first = std::string(first);
  map.second = std::string(second);
  map.first_range = first_range;
  map.second_range = second_range;
  map.prices_now = {scenario.materials()[*scenario.index_of(first)].price_per_t,
                    scenario.materials()[*scenario.index_of(second)].price_per_t};
  RegionFinder finder(priced, first_range, second_range);
  const bool complete = finder.run();
  map.regions = finder.regions();
  map.outcome = complete ? Outcome{.status = Status::optimal, .detail = {}}
                         : priced.outcome(solve::what_is_finished(!map.regions.empty()));
  map.solves = priced.solves();
  return map;
}

}  // namespace leastwise
