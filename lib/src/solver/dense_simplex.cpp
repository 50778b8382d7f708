#include "solver/dense_simplex.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "solver/dense_values.hpp"

namespace leastwise::solver {
namespace {

using model::infinity;

/// In scaled rows.
constexpr double feasibility = 1e-11;
/// An optimum whose refined values miss a bound by more is looked at again.
constexpr double refined_feasibility = 1e-10;
/// By how much the bound must pass the cutoff, relative: the caller adds it up anew.
constexpr double clearly_dearer = 1e-9;
/// Where a variable without a bound begins; limits are between 1 and a million.
constexpr double far_out = 1e8;
/// After so many pivots the tableau is built anew.
constexpr int most_pivots = 100;

double allowed(double tolerance, double value) { return tolerance * (1 + std::fabs(value)); }

}  // namespace

DenseSimplex::DenseSimplex(const LinearProgram& data)
    : program_(data), now_{DenseTableau(program_)} {
  const auto n = program_.columns();
  now_.lower.assign(program_.variables(), -infinity);
  now_.upper.assign(program_.variables(), infinity);
  now_.at_upper.assign(program_.variables(), 0);
  for (std::size_t j = 0; j < n; ++j) set_bounds(j, data.lower[j], data.upper[j]);
  for (std::size_t i = 0; i < program_.rows(); ++i)
    set_bounds(n + i, data.row_lower[i], data.row_upper[i]);
}

void DenseSimplex::set_bounds(std::size_t v, double lower, double upper) {
  now_.lower[v] = lower > -largest_number ? lower / program_.unit(v) : -infinity;
  now_.upper[v] = upper < largest_number ? upper / program_.unit(v) : infinity;
  if (v < program_.columns()) return;
  const bool free = std::isinf(now_.lower[v]) && std::isinf(now_.upper[v]);
  if (free && !now_.tableau.asleep(v) && now_.tableau.is_basic(v)) now_.tableau.put_to_sleep(v);
  if (!free && now_.tableau.asleep(v)) now_.tableau.wake(program_, v);
}

DenseOutcome DenseSimplex::solve(const base::Deadline& deadline, double cutoff) {
  if (now_.tableau.pivots() > most_pivots && !now_.tableau.rebuild(program_))
    now_.tableau.reset(program_);
  place();
  const double worth = std::isfinite(cutoff) ? cutoff / program_.cost_unit() : infinity;
  const std::size_t most_steps = 100 + 5 * program_.variables();
  for (std::size_t step = 1; step <= most_steps; ++step) {
    if (step % 32 == 0 && deadline && std::chrono::steady_clock::now() >= *deadline)
      return DenseOutcome::time_limit;
    if (const auto broken = most_broken()) {
      if (worth < infinity && bound() > worth + allowed(clearly_dearer, worth)) {
        settled_.assign(program_.variables(), 0.0);
        return DenseOutcome::dearer;
      }
      const auto taken = relieve(*broken);
      if (taken == Step::impossible) return DenseOutcome::infeasible;
      if (taken == Step::stuck) return DenseOutcome::gave_up;
      continue;
    }
    if (turn_wrong_sides()) continue;
    const auto ending = settle();
    if (ending == Outcome::settled) return DenseOutcome::optimal;
    if (ending == Outcome::stuck) return DenseOutcome::gave_up;
  }
  return DenseOutcome::gave_up;
}

/// Every nonbasic at the bound its reduced cost wants, and the basic variables with them.
void DenseSimplex::place() {
  now_.at.resize(now_.tableau.columns());
  now_.direction.resize(now_.tableau.columns());
  for (std::size_t q = 0; q < now_.at.size(); ++q) place(q);
  set_values();
}

void DenseSimplex::place(std::size_t q) {
  const auto v = now_.tableau.nonbasic(q);
  const double lower = now_.lower[v];
  const double upper = now_.upper[v];
  const double reduced = now_.tableau.reduced()[q];
  const bool wants_up = reduced < -wrong_reduced_cost;
  const bool wants_down = reduced > wrong_reduced_cost;
  if (lower == upper || (std::isinf(lower) && std::isinf(upper) && !wants_up && !wants_down)) {
    now_.at[q] = lower == upper ? lower : 0;
    now_.direction[q] = lower == upper ? 0 : 2;
    return;
  }
  bool up = wants_up || (now_.at_upper[v] && !wants_down);
  if (up && std::isinf(upper) && !wants_up) up = false;
  if (!up && std::isinf(lower) && !wants_down) up = true;
  now_.at_upper[v] = up;
  now_.direction[q] = up ? -1 : 1;
  if (up)
    now_.at[q] = std::isfinite(upper) ? upper : std::max(lower, 0.0) + far_out;
  else
    now_.at[q] = std::isfinite(lower) ? lower : std::min(upper, 0.0) - far_out;
}

void DenseSimplex::set_values() {
  std::vector<std::size_t> away_from_zero;  // few: most columns are left out of a blend
  for (std::size_t q = 0; q < now_.at.size(); ++q)
    if (now_.at[q] != 0) away_from_zero.push_back(q);
  now_.value.resize(now_.tableau.rows());
  for (std::size_t p = 0; p < now_.value.size(); ++p) {
    const double* row = now_.tableau.row(p);
    double sum = 0;
    for (const auto q : away_from_zero) sum -= row[q] * now_.at[q];
    now_.value[p] = sum;
  }
}

std::optional<DenseSimplex::Broken> DenseSimplex::most_broken() const {
  Broken worst;
  for (std::size_t p = 0; p < now_.value.size(); ++p) {
    const auto v = now_.tableau.basic(p);
    const double low = now_.lower[v] - now_.value[p];
    const double high = now_.value[p] - now_.upper[v];
    const double miss = std::max(low, high);
    if (miss > worst.miss && miss > allowed(feasibility, now_.value[p]))
      worst = {p, miss, low > high};
  }
  if (worst.miss == 0) return std::nullopt;
  return worst;
}

/// What the present basis costs: below it no feasible point can lie while every reduced cost has
/// the sign its bound wants.
double DenseSimplex::bound() const {
  double sum = 0;
  for (std::size_t q = 0; q < now_.at.size(); ++q) {
    if (is_artificial(q)) return -infinity;
    sum += now_.tableau.reduced()[q] * now_.at[q];
  }
  return sum;
}

bool DenseSimplex::is_artificial(std::size_t q) const {
  const auto v = now_.tableau.nonbasic(q);
  return (now_.direction[q] == 1 && std::isinf(now_.lower[v])) ||
         (now_.direction[q] == -1 && std::isinf(now_.upper[v]));
}

/// Moves what rounding left with a reduced cost of the wrong sign to its other bound.
bool DenseSimplex::turn_wrong_sides() {
  bool turned = false;
  for (std::size_t q = 0; q < now_.at.size(); ++q) {
    const auto v = now_.tableau.nonbasic(q);
    if (now_.direction[q] != 1 && now_.direction[q] != -1) continue;
    if (now_.direction[q] * now_.tableau.reduced()[q] >= -wrong_reduced_cost) continue;
    if (!std::isfinite(now_.lower[v]) || !std::isfinite(now_.upper[v])) continue;
    flip(q);
    turned = true;
  }
  return turned;
}

void DenseSimplex::take_values() {
  settled_.assign(program_.variables(), 0.0);
  for (std::size_t q = 0; q < now_.at.size(); ++q) settled_[now_.tableau.nonbasic(q)] = now_.at[q];
  for (std::size_t p = 0; p < now_.value.size(); ++p)
    settled_[now_.tableau.basic(p)] = now_.value[p];
  refine_values(program_, now_.tableau, settled_);
}

/// Refines the optimum and looks at it; a tableau that has drifted is built anew.
DenseSimplex::Outcome DenseSimplex::settle() {
  for (std::size_t q = 0; q < now_.at.size(); ++q)
    if (is_artificial(q)) return Outcome::stuck;
  take_values();
  for (std::size_t p = 0; p < now_.value.size(); ++p) {
    const auto v = now_.tableau.basic(p);
    const double miss = std::max(now_.lower[v] - settled_[v], settled_[v] - now_.upper[v]);
    if (miss <= allowed(refined_feasibility, settled_[v])) continue;
    return renew() ? Outcome::renewed : Outcome::stuck;
  }
  return Outcome::settled;
}

/// Builds a worn tableau anew. Returns: false when it is not worn, or singular.
bool DenseSimplex::renew() {
  if (now_.tableau.pivots() == 0) return false;
  if (!now_.tableau.rebuild(program_)) return false;
  place();
  return true;
}

void DenseSimplex::read(std::vector<double>& x, std::vector<double>& y) const {
  x.resize(program_.columns());
  for (std::size_t j = 0; j < x.size(); ++j) x[j] = settled_[j] * program_.unit(j);
  y = refined_duals(program_, now_.tableau);
  for (std::size_t i = 0; i < y.size(); ++i) y[i] *= program_.dual_unit(i);
}

std::vector<double> DenseSimplex::multipliers() const {
  auto y = multipliers_;
  for (std::size_t i = 0; i < y.size(); ++i) y[i] *= program_.multiplier_unit(i);
  return y;
}

WarmStart DenseSimplex::warm_start() const {
  WarmStart start(program_.variables(), BasisStatus::basic);
  for (std::size_t q = 0; q < now_.tableau.columns(); ++q) {
    const auto v = now_.tableau.nonbasic(q);
    start[v] = now_.at_upper[v] ? BasisStatus::at_upper : BasisStatus::at_lower;
    if (std::isinf(now_.lower[v]) && std::isinf(now_.upper[v])) start[v] = BasisStatus::free;
    if (now_.lower[v] == now_.upper[v]) start[v] = BasisStatus::fixed;
  }
  return start;
}

void DenseSimplex::set_warm_start(const WarmStart& start) {
  const auto n = program_.columns();
  std::vector<char> wanted(start.size());
  for (std::size_t v = 0; v < start.size(); ++v) {
    wanted[v] = start[v] == BasisStatus::basic;
    now_.at_upper[v] = start[v] == BasisStatus::at_upper;
    if (v >= n && !wanted[v] && now_.tableau.asleep(v)) now_.tableau.wake(program_, v);
  }
  if (!now_.tableau.bring_about(wanted)) now_.tableau.reset(program_);
}

}  // namespace leastwise::solver
