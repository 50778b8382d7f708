#include "solver/dense_simplex.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "solver/dense_values.hpp"

namespace leastwise::solver {
namespace {

using model::infinity;

/// Tolerances in scaled rows and costs.
constexpr double feasibility = 1e-11;
constexpr double wrong_reduced_cost = 1e-11;
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

DenseSimplex::DenseSimplex(const LinearData& data) : program_(data), tableau_(program_) {
  const auto n = program_.columns();
  lower_.assign(program_.variables(), -infinity);
  upper_.assign(program_.variables(), infinity);
  at_upper_.assign(program_.variables(), 0);
  for (std::size_t j = 0; j < n; ++j) set_bounds(j, data.lower[j], data.upper[j]);
  for (std::size_t i = 0; i < program_.rows(); ++i)
    set_bounds(n + i, data.row_lower[i], data.row_upper[i]);
}

void DenseSimplex::set_bounds(std::size_t v, double lower, double upper) {
  lower_[v] = lower > -largest_number ? lower / program_.unit(v) : -infinity;
  upper_[v] = upper < largest_number ? upper / program_.unit(v) : infinity;
  if (v < program_.columns()) return;
  const bool free = std::isinf(lower_[v]) && std::isinf(upper_[v]);
  if (free && !tableau_.asleep(v) && tableau_.is_basic(v)) tableau_.put_to_sleep(v);
  if (!free && tableau_.asleep(v)) tableau_.wake(v);
}

DenseOutcome DenseSimplex::solve(const base::Deadline& deadline, double cutoff) {
  if (tableau_.pivots() > most_pivots && !tableau_.rebuild()) tableau_.reset();
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
    if (ending == Ending::settled) return DenseOutcome::optimal;
    if (ending == Ending::stuck) return DenseOutcome::gave_up;
  }
  return DenseOutcome::gave_up;
}

/// Every nonbasic at the bound its reduced cost wants, and the basic variables with them.
void DenseSimplex::place() {
  at_.resize(tableau_.columns());
  direction_.resize(tableau_.columns());
  for (std::size_t q = 0; q < at_.size(); ++q) place(q);
  set_values();
}

void DenseSimplex::place(std::size_t q) {
  const auto v = tableau_.nonbasic(q);
  const double lower = lower_[v];
  const double upper = upper_[v];
  const double reduced = tableau_.reduced()[q];
  const bool wants_up = reduced < -wrong_reduced_cost;
  const bool wants_down = reduced > wrong_reduced_cost;
  if (lower == upper || (std::isinf(lower) && std::isinf(upper) && !wants_up && !wants_down)) {
    at_[q] = lower == upper ? lower : 0;
    direction_[q] = lower == upper ? 0 : 2;
    return;
  }
  bool up = wants_up || (at_upper_[v] && !wants_down);
  if (up && std::isinf(upper) && !wants_up) up = false;
  if (!up && std::isinf(lower) && !wants_down) up = true;
  at_upper_[v] = up;
  direction_[q] = up ? -1 : 1;
  if (up)
    at_[q] = std::isfinite(upper) ? upper : std::max(lower, 0.0) + far_out;
  else
    at_[q] = std::isfinite(lower) ? lower : std::min(upper, 0.0) - far_out;
}

void DenseSimplex::set_values() {
  std::vector<std::size_t> away_from_zero;  // few: most columns are left out of a blend
  for (std::size_t q = 0; q < at_.size(); ++q)
    if (at_[q] != 0) away_from_zero.push_back(q);
  value_.resize(tableau_.rows());
  for (std::size_t p = 0; p < value_.size(); ++p) {
    const double* row = tableau_.row(p);
    double sum = 0;
    for (const auto q : away_from_zero) sum -= row[q] * at_[q];
    value_[p] = sum;
  }
}

std::optional<DenseSimplex::Broken> DenseSimplex::most_broken() const {
  Broken worst;
  for (std::size_t p = 0; p < value_.size(); ++p) {
    const auto v = tableau_.basic(p);
    const double low = lower_[v] - value_[p];
    const double high = value_[p] - upper_[v];
    const double miss = std::max(low, high);
    if (miss > worst.miss && miss > allowed(feasibility, value_[p])) worst = {p, miss, low > high};
  }
  if (worst.miss == 0) return std::nullopt;
  return worst;
}

/// What the present basis costs: below it no feasible point can lie while every reduced cost has
/// the sign its bound wants.
double DenseSimplex::bound() const {
  double sum = 0;
  for (std::size_t q = 0; q < at_.size(); ++q) {
    if (is_artificial(q)) return -infinity;
    sum += tableau_.reduced()[q] * at_[q];
  }
  return sum;
}

bool DenseSimplex::is_artificial(std::size_t q) const {
  const auto v = tableau_.nonbasic(q);
  return (direction_[q] == 1 && std::isinf(lower_[v])) ||
         (direction_[q] == -1 && std::isinf(upper_[v]));
}

/// Moves what rounding left with a reduced cost of the wrong sign to its other bound.
bool DenseSimplex::turn_wrong_sides() {
  bool turned = false;
  for (std::size_t q = 0; q < at_.size(); ++q) {
    const auto v = tableau_.nonbasic(q);
    if (direction_[q] != 1 && direction_[q] != -1) continue;
    if (direction_[q] * tableau_.reduced()[q] >= -wrong_reduced_cost) continue;
    if (!std::isfinite(lower_[v]) || !std::isfinite(upper_[v])) continue;
    flip(q);
    turned = true;
  }
  return turned;
}

/// Refines the optimum and looks at it; a tableau that has drifted is built anew.
DenseSimplex::Ending DenseSimplex::settle() {
  for (std::size_t q = 0; q < at_.size(); ++q)
    if (is_artificial(q)) return Ending::stuck;
  settled_.assign(program_.variables(), 0.0);
  for (std::size_t q = 0; q < at_.size(); ++q) settled_[tableau_.nonbasic(q)] = at_[q];
  for (std::size_t p = 0; p < value_.size(); ++p) settled_[tableau_.basic(p)] = value_[p];
  refine_values(program_, tableau_, settled_);
  for (std::size_t p = 0; p < value_.size(); ++p) {
    const auto v = tableau_.basic(p);
    const double miss = std::max(lower_[v] - settled_[v], settled_[v] - upper_[v]);
    if (miss <= allowed(refined_feasibility, settled_[v])) continue;
    return renew() ? Ending::renewed : Ending::stuck;
  }
  return Ending::settled;
}

/// Builds a worn tableau anew. Returns: false when it is not worn, or singular.
bool DenseSimplex::renew() {
  if (tableau_.pivots() == 0) return false;
  if (!tableau_.rebuild()) return false;
  place();
  return true;
}

void DenseSimplex::read(std::vector<double>& x, std::vector<double>& y) const {
  x.resize(program_.columns());
  for (std::size_t j = 0; j < x.size(); ++j) x[j] = settled_[j] * program_.unit(j);
  y = refined_duals(program_, tableau_);
  for (std::size_t i = 0; i < y.size(); ++i) y[i] *= program_.dual_unit(i);
}

std::vector<double> DenseSimplex::multipliers() const {
  auto y = multipliers_;
  for (std::size_t i = 0; i < y.size(); ++i) y[i] *= program_.multiplier_unit(i);
  return y;
}

WarmStart DenseSimplex::warm_start() const {
  WarmStart start(program_.variables(), Standing::basic);
  for (std::size_t q = 0; q < tableau_.columns(); ++q) {
    const auto v = tableau_.nonbasic(q);
    start[v] = at_upper_[v] ? Standing::at_upper : Standing::at_lower;
    if (std::isinf(lower_[v]) && std::isinf(upper_[v])) start[v] = Standing::free;
    if (lower_[v] == upper_[v]) start[v] = Standing::fixed;
  }
  return start;
}

void DenseSimplex::set_warm_start(const WarmStart& start) {
  const auto n = program_.columns();
  std::vector<char> wanted(start.size());
  for (std::size_t v = 0; v < start.size(); ++v) {
    wanted[v] = start[v] == Standing::basic;
    at_upper_[v] = start[v] == Standing::at_upper;
    if (v >= n && !wanted[v] && tableau_.asleep(v)) tableau_.wake(v);
  }
  if (!tableau_.bring_about(wanted)) tableau_.reset();
}

}  // namespace leastwise::solver
