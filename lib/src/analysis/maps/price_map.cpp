#include <leastwise/price_map.hpp>

#include <algorithm>
#include <cmath>

#include "analysis/maps/price_lines.hpp"

namespace leastwise {
namespace {

using analysis::PricedScenario;
using analysis::Recipe;

/// A recipe and where it starts to be the cheapest.
struct Segment {
  double from = 0;
  Recipe recipe{};
};

/// Finds the recipes from left to right, so that what is finished is one interval.
class Intersection {
 public:
  Intersection(PricedScenario& priced, double from, double to)
      : priced_(priced), from_(from), to_(to) {}

  /// Returns: false when a limit struck.
  bool run();
  [[nodiscard]] const std::vector<Segment>& segments() const { return segments_; }
  [[nodiscard]] double finished_to() const { return finished_to_; }

 private:
  bool between(double from, const Recipe& left, double to, const Recipe& right);
  void starts(double at, const Recipe& recipe);

  PricedScenario& priced_;
  double from_;
  double to_;
  double finished_to_ = 0;
  std::vector<Segment> segments_{};
};

bool Intersection::run() {
  finished_to_ = from_;
  const auto left = priced_.cheapest({from_});
  if (!left) return false;
  starts(from_, *left);
  if (left->slope[0] == 0) {  // not used at all: dearer, it stays out
    finished_to_ = to_;
    return true;
  }
  const auto right = priced_.cheapest({to_});
  if (!right) return false;
  return between(from_, *left, to_, *right);
}

void Intersection::starts(double at, const Recipe& recipe) {
  // A recipe that is cheapest in one point only is no band of its own.
  if (!segments_.empty() &&
      std::fabs(at - segments_.back().from) <= 1e-9 * std::max({1.0, std::fabs(at), to_ - from_})) {
    segments_.back().recipe = recipe;
    return;
  }
  segments_.push_back({at, recipe});
}

bool Intersection::between(double from, const Recipe& left, double to, const Recipe& right) {
  const double left_there = left.cost_at({to});
  const double right_there = right.cost_at({to});
  const double fall = left.slope[0] - right.slope[0];
  if (left_there - right_there <= solve::cost_tolerance(right_there) || fall <= 0) {
    finished_to_ = to;  // the left recipe is as cheap at the far end, so it is throughout
    return true;
  }
  const double gap = right.cost_at({from}) - left.cost_at({from});
  const double crossing = from + std::max(0.0, gap / fall);
  if (gap <= solve::cost_tolerance(left.cost_at({from}))) {
    starts(from, right);
    finished_to_ = to;
    return true;
  }
  const double cost = left.cost_at({crossing});
  const auto cheaper = priced_.cheapest({crossing}, cost - solve::cost_tolerance(cost));
  if (priced_.stopped()) return false;
  if (!cheaper) {
    starts(crossing, right);
    finished_to_ = to;
    return true;
  }
  return between(from, left, crossing, *cheaper) && between(crossing, *cheaper, to, right);
}

PriceBand band(const PricedScenario& priced, const Segment& segment, double to) {
  PriceBand band;
  band.from = segment.from;
  band.to = to;
  band.cost_from = segment.recipe.cost_at({band.from});
  band.cost_to = segment.recipe.cost_at({band.to});
  band.cost_slope = segment.recipe.slope[0];
  band.share_percent = priced.share_percent(segment.recipe, 0);
  band.blend = priced.blend_at(segment.recipe, {band.from});
  return band;
}

}  // namespace

PriceMap price_map(const Scenario& scenario, std::string_view material, double from, double to,
                   const SolveOptions& limits) {
  PricedScenario priced(scenario, {material}, limits);
  analysis::require_price_range(scenario, from, to);
  PriceMap map;
  map.title = scenario.title();
  map.currency = scenario.currency();
  map.units = scenario.draft().units;
  map.basis = scenario.basis();
  map.notes.assign(scenario.notes().begin(), scenario.notes().end());
  map.material = std::string(material);
  map.from = from;
  map.to = to;
  map.price_now = scenario.materials()[*scenario.index_of(material)].price_per_t;
  Intersection intersection(priced, from, to);
  const bool complete = intersection.run();
  map.solves = priced.solves();
  const auto& segments = intersection.segments();
  for (std::size_t k = 0; k < segments.size(); ++k) {
    const double end = k + 1 < segments.size() ? segments[k + 1].from : intersection.finished_to();
    if (end > segments[k].from) map.bands.push_back(band(priced, segments[k], end));
  }
  map.outcome = complete ? Outcome{.status = Status::optimal, .detail = {}}
                         : priced.outcome(solve::what_is_finished(!map.bands.empty()));
  return map;
}

}  // namespace leastwise
