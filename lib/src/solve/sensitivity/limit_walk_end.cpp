#include <algorithm>
#include <cmath>
#include <utility>

#include "solve/index.hpp"
#include "solve/sensitivity/limit_walk.hpp"
#include "solver/certificate.hpp"
#include "solver/exact_solve.hpp"

// Where a walk may not go on: whether there is a blend beyond the end of a basis.

namespace leastwise::solve {
namespace {

using model::infinity;

/// Multipliers without those that are rounding beside the largest.
std::vector<double> without_traces(std::vector<double> y) {
  double largest = 0;
  for (const double v : y) largest = std::max(largest, std::fabs(v));
  for (double& v : y)
    if (std::fabs(v) <= 1e-12 * largest) v = 0;
  return y;
}

}  // namespace

/// Whether the rows contradict each other as soon as the limit goes on, by a millionth of it or,
/// where that is lost in rounding, by a ten-thousandth or a hundred-thousandth of its unit.
bool LimitWalk::is_impossible_beyond(std::size_t p) {
  const double here = limit_;
  if (drifts_into_contradiction(p)) return true;
  for (const double step : {1e-6 * size_, 1e-4 * size_, 1e-5}) {
    go_to(here + direction_ * step);
    if (contradict(program_.simplex_.multipliers_of(p))) return true;
    const auto state = program_.simplex_.state();
    if (program_.simplex_.solve(options_.deadline, infinity) == solver::DenseOutcome::infeasible &&
        contradict(program_.simplex_.multipliers()))
      return true;
    program_.simplex_.stand_at(state);
  }
  go_to(here + direction_ * 1e-6 * size_);
  if (is_impossible_exactly()) return true;
  go_to(here);
  return false;
}

/// Whether multipliers that leave no room here leave less than none as soon as the row drifts: what
/// the drift takes away is a sum that no x makes zero.
bool LimitWalk::drifts_into_contradiction(std::size_t p) {
  const auto& moving = bounds_.front();
  if (bounds_.size() != 1 || moving.drift.empty() || moving.rate != 0) return false;
  auto y = without_traces(program_.simplex_.multipliers_of(p));
  if (!solver::leaves_no_room(program_.data_, y)) {
    for (double& v : y) v = -v;
    if (!solver::leaves_no_room(program_.data_, y)) return false;
  }
  if (x_.empty() && !verify()) return false;
  auto taken = program_.data_;
  const auto k = index(moving.row);
  taken.row_lower[k] = -infinity;
  taken.row_upper[k] = infinity;
  std::fill(taken.cost.begin(), taken.cost.end(), 0.0);
  double most = 0;
  for (const auto& drift : moving.drift) {
    double& cost = taken.cost[index(drift.column)];
    cost = -direction_ * y[k] * drift.value;
    if (cost < 0 || taken.lower[index(drift.column)] < 0) return false;
    most += cost * x_[index(drift.column)];
  }
  solver::LpSolver least(taken);
  if (least.solve(options_.deadline) != solver::LinearStatus::optimal) return false;
  const auto proof = solver::dual_proof(taken, least.duals());
  return proof.violation <= solver::certificate_tolerance && proof.bound > 1e-6 * most && most > 0;
}

/// Whether the program as it lies has no solution, in whole fractions: what is missing may be less
/// than rounding.
bool LimitWalk::is_impossible_exactly() const {
  solver::Basis basis;
  const auto start = program_.simplex_.warm_start();
  const auto columns = static_cast<std::ptrdiff_t>(program_.data_.cost.size());
  basis.columns.assign(start.begin(), start.begin() + columns);
  basis.rows.assign(start.begin() + columns, start.end());
  try {
    return solver::solve_without_rounding(program_.data_, basis,
                                          base::stop_check_until(options_.deadline, options_.stop))
               .status == solver::LinearStatus::infeasible;
  } catch (const base::Interrupted&) {
    return false;
  }
}

/// Whether the multipliers `y`, or their negatives, contradict the program.
bool LimitWalk::contradict(std::vector<double> y) const {
  y = without_traces(std::move(y));
  if (solver::contradicts(program_.data_, y)) return true;
  for (double& v : y) v = -v;
  return solver::contradicts(program_.data_, y);
}

}  // namespace leastwise::solve
