#include <algorithm>
#include <cmath>

#include "analysis/risk/risk_tableau.hpp"

namespace leastwise::analysis {

using model::infinity;

int Pivoting::entering(double tolerance) const {
  int best = -1;
  double worst = tolerance;
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j) {
    const double gain = -shown_->side[j] * reduced_[j];
    if (gain <= worst) continue;
    worst = gain;
    best = static_cast<int>(j);
  }
  return best;
}

double Pivoting::proved_bound(double tolerance) {
  double bound = objective();
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j) {
    const double gain = -shown_->side[j] * reduced_[j];
    if (gain <= tolerance) continue;
    const auto v = static_cast<std::size_t>(shown_->nonbasic[j]);
    const double most = std::min(bounds_->upper[v], program_->most[v]);
    const double least = std::max(bounds_->lower[v], program_->least[v]);
    const double reach = shown_->side[j] > 0 ? most - bounds_->lower[v] : bounds_->upper[v] - least;
    if (!(reach < infinity)) return -infinity;
    bound -= gain * std::max(reach, 0.0);
  }
  return bound;
}

/// Moves nonbasic `q` as far as the bounds let it. False: nothing stops it, or no sound pivot.
bool Pivoting::step(int q_column) {
  own();
  const auto q = static_cast<std::size_t>(q_column);
  const double direction = now_.side[q];
  const auto v = static_cast<std::size_t>(now_.nonbasic[q]);
  double theta = bounds_->upper[v] - bounds_->lower[v];
  int leaving = -1;
  double pivot = 0;
  for (std::size_t i = 0; i < now_.basic.size(); ++i) {
    column_[i] = row(i)[q] * direction;
    if (std::fabs(column_[i]) < 1e-9) continue;
    const auto b = static_cast<std::size_t>(now_.basic[i]);
    const double room =
        column_[i] > 0 ? now_.value[i] - bounds_->lower[b] : bounds_->upper[b] - now_.value[i];
    if (!(room < infinity)) continue;
    const double size = std::fabs(column_[i]);
    const double reach = std::max(room, 0.0) / size;
    const double slack = 1e-12 * (1 + reach);
    if (reach < theta - slack || (reach <= theta + slack && size > pivot && leaving >= 0)) {
      theta = std::min(theta, reach);
      leaving = static_cast<int>(i);
      pivot = size;
    }
  }
  if (!(theta < infinity)) return false;
  if (objective_known_) objective_ += reduced_[q] * direction * theta;
  const double from = bound_of(q);
  for (std::size_t i = 0; i < now_.basic.size(); ++i) now_.value[i] -= column_[i] * theta;
  if (leaving < 0) {
    now_.side[q] = static_cast<signed char>(-now_.side[q]);
    return true;
  }
  const auto p = static_cast<std::size_t>(leaving);
  const auto out = static_cast<std::size_t>(now_.basic[p]);
  const bool to_lower = column_[p] > 0;
  exchange(p, q);
  now_.value[p] = from + direction * theta;
  now_.side[q] = static_cast<signed char>(
      bounds_->lower[out] == bounds_->upper[out] ? 0 : (to_lower ? 1 : -1));
  return true;
}

PivotOutcome Pivoting::primal(double cutoff) {
  const double tolerance = 1e-11 * cost_scale_;
  const int most_steps = 50 + program_->rows;
  for (int steps = 0; steps < most_steps; ++steps) {
    const int q = entering(tolerance);
    if (q < 0) return PivotOutcome::optimal;
    if (cutoff < infinity && proved_bound(0) >= cutoff) return PivotOutcome::beaten;
    if (!step(q)) return PivotOutcome::stalled;
  }
  return PivotOutcome::stalled;
}

int Pivoting::leaving() const {
  double worst = 0;
  int row = -1;
  for (std::size_t i = 0; i < now_.basic.size(); ++i) {
    const auto b = static_cast<std::size_t>(now_.basic[i]);
    const double below = bounds_->lower[b] - now_.value[i];
    const double above = now_.value[i] - bounds_->upper[b];
    const double miss = std::max(below, above);
    const double bound = below > above ? bounds_->lower[b] : bounds_->upper[b];
    if (miss <= 1e-10 * (1 + std::fabs(bound)) || miss <= worst) continue;
    worst = miss;
    row = static_cast<int>(i);
  }
  return row;
}

int Pivoting::entering_for(std::size_t p, bool below) const {
  int column = -1;
  double best = infinity;
  double size = 0;
  const double slack = 1e-12 * cost_scale_;
  for (std::size_t j = 0; j < now_.nonbasic.size(); ++j) {
    const double entry = row(p)[j] * now_.side[j] * (below ? -1 : 1);
    if (entry <= 1e-9) continue;
    const double ratio = std::max(now_.side[j] * reduced_[j], 0.0) / entry;
    if (ratio >= best - slack && (ratio > best + slack || entry <= size)) continue;
    best = std::min(best, ratio);
    size = entry;
    column = static_cast<int>(j);
  }
  return column;
}

/// Brings basic `p` to the bound that it misses, in exchange for nonbasic `q`.
void Pivoting::dual_step(std::size_t p, std::size_t q, bool below) {
  const auto out = static_cast<std::size_t>(now_.basic[p]);
  const double bound = below ? bounds_->lower[out] : bounds_->upper[out];
  const double theta = (now_.value[p] - bound) / row(p)[q];
  const double from = bound_of(q);
  if (objective_known_) objective_ += reduced_[q] * theta;
  for (std::size_t i = 0; i < now_.basic.size(); ++i) now_.value[i] -= row(i)[q] * theta;
  exchange(p, q);
  now_.value[p] = from + theta;
  now_.side[q] =
      static_cast<signed char>(bounds_->lower[out] == bounds_->upper[out] ? 0 : (below ? 1 : -1));
}

PivotOutcome Pivoting::dual() {
  own();
  const int most_steps = 50 + program_->rows;
  for (int steps = 0; steps < most_steps; ++steps) {
    const int row_out = leaving();
    if (row_out < 0) return PivotOutcome::optimal;
    const auto p = static_cast<std::size_t>(row_out);
    const bool below = now_.value[p] < bounds_->lower[static_cast<std::size_t>(now_.basic[p])];
    const int column_in = entering_for(p, below);
    if (column_in < 0) {
      broken_row_ = row_out;
      return PivotOutcome::infeasible;
    }
    dual_step(p, static_cast<std::size_t>(column_in), below);
  }
  return PivotOutcome::stalled;
}

}  // namespace leastwise::analysis
