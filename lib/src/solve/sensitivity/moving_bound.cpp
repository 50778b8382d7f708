#include "solve/sensitivity/moving_bound.hpp"

#include <cmath>
#include <tuple>

#include "solve/index.hpp"
#include "solver/branching.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;

bool limits_meet(double a, double b) {
  return std::fabs(a - b) <= 1e-9 * std::max(std::fabs(a), 1e-9);
}

MovingBound moving_bound(const model::Model& model, std::size_t r,
                         const std::vector<solver::Decision>& path) {
  const auto& rule = model.rules[r];
  MovingBound moving{.row = rule.row,
                     .column = rule.column,
                     .side = rule.side,
                     .rate = rule.rhs_derivative,
                     .drift = rule.coefficient_derivatives};
  std::tie(moving.other_lower, moving.other_upper) = model::bounds_without(model, r);
  if (rule.row >= 0 || path.empty()) return moving;
  model::Model others = model;
  others.rules[r].active = false;
  if (rule.paired_rule >= 0) others.rules[index(rule.paired_rule)].active = false;
  model::refresh_bounds(others);
  solver::NodeBounds bounds;
  solver::Branching(others).apply(path, bounds);
  moving.other_lower = bounds.lower[index(rule.column)];
  moving.other_upper = bounds.upper[index(rule.column)];
  return moving;
}

}  // namespace

std::vector<MovingBound> moving_bounds(const model::Model& model, std::size_t r,
                                       const std::vector<solver::Decision>& path) {
  std::vector<MovingBound> bounds{moving_bound(model, r, path)};
  if (model.rules[r].paired_rule >= 0)
    bounds.push_back(moving_bound(model, index(model.rules[r].paired_rule), path));
  return bounds;
}

BoundMotion motion_of(const MovingBound& moving, double limit, int direction) {
  BoundMotion motion;
  const double bound = limit * moving.rate;
  const double speed = direction * moving.rate;
  if (speed == 0) return motion;
  // `sign` turns an upper bound into a lower one.
  const auto side = [&](double own, double opposite, double sign, double& rate) {
    const double v = sign * speed;
    const double above = std::isinf(own)           ? infinity
                         : limits_meet(bound, own) ? 0
                                                   : sign * (bound - own);
    if (above > 0 || (above == 0 && v > 0)) rate = moving.rate;
    if (std::isfinite(above) && v < 0 && above > 0) motion.stop_at(above, -v, false);
    if (std::isfinite(above) && v > 0 && above < 0) motion.stop_at(-above, v, false);
    if (std::isfinite(opposite) && v > 0)
      motion.stop_at(limits_meet(bound, opposite) ? 0 : sign * (opposite - bound), v, true);
  };
  if (moving.side != RuleSide::max)
    side(moving.other_lower, moving.other_upper, 1, motion.lower_rate);
  if (moving.side != RuleSide::min)
    side(moving.other_upper, moving.other_lower, -1, motion.upper_rate);
  return motion;
}

}  // namespace leastwise::solve
