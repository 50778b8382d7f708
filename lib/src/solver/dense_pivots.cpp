#include <algorithm>
#include <cmath>

#include "solver/dense_simplex.hpp"
#include "solver/dense_values.hpp"

namespace leastwise::solver {
namespace {

using model::infinity;

/// By how much Harris's test lets a reduced cost pass zero for the sake of a larger pivot.
constexpr double slack_of_reduced_costs = 1e-11;

/// How fast a nonbasic that leaves its bound brings a broken row towards its bound, from what the
/// row holds of it, signed so that a positive entry helps a variable that may rise.
double pull(double signed_entry, double direction) {
  return direction == 2 ? std::fabs(signed_entry) : signed_entry * direction;
}

/// The least and the most a sum may come to within bounds.
struct Reach {
  double least = 0;
  double most = 0;
  double size = 0;

  void add(double factor, double lower, double upper) {
    const double from = factor > 0 ? factor * lower : factor * upper;
    const double to = factor > 0 ? factor * upper : factor * lower;
    least += from;
    most += to;
    size +=
        std::max(std::isfinite(from) ? std::fabs(from) : 0, std::isfinite(to) ? std::fabs(to) : 0);
  }
};

}  // namespace

/// Brings one broken row to its bound: flips what gets there too soon, then exchanges.
DenseSimplex::Step DenseSimplex::relieve(Broken broken) {
  for (;;) {
    const auto q = entering(broken);
    if (!q) {
      if (contradiction(broken.p)) return Step::impossible;
      return renew() ? Step::taken : Step::stuck;
    }
    const auto v = now_.tableau.nonbasic(*q);
    const double whole =
        (now_.upper[v] - now_.lower[v]) * std::fabs(now_.tableau.entry(broken.p, *q));
    if (!std::isfinite(whole) || whole >= broken.miss * (1 - 1e-12)) {
      pivot(broken, *q);
      return Step::taken;
    }
    flip(*q);
    broken.miss -= whole;
  }
}

/// Harris's ratio test: among the nonbasics whose reduced costs reach zero within a tolerance, the
/// one with the largest pivot.
std::optional<std::size_t> DenseSimplex::entering(const Broken& broken) const {
  const double* row = now_.tableau.row(broken.p);
  const double* reduced = now_.tableau.reduced();
  // x_p = -sum of row_j x_j: where it must rise, a variable with a negative entry must.
  const double sign = broken.below ? -1 : 1;
  const auto cost_of = [&](std::size_t j) { return std::max(now_.direction[j] * reduced[j], 0.0); };
  double reach = infinity;
  for (std::size_t j = 0; j < now_.direction.size(); ++j) {
    const double p = pull(sign * row[j], now_.direction[j]);
    if (p <= pivot_tolerance) continue;
    const double cost = now_.direction[j] == 2 ? 0 : cost_of(j);
    if (cost + slack_of_reduced_costs < reach * p) reach = (cost + slack_of_reduced_costs) / p;
  }
  if (reach == infinity) return std::nullopt;
  double size = 0;
  std::optional<std::size_t> best;
  for (std::size_t j = 0; j < now_.direction.size(); ++j) {
    const double p = pull(sign * row[j], now_.direction[j]);
    if (p <= pivot_tolerance || p <= size) continue;
    const double cost = now_.direction[j] == 2 ? 0 : cost_of(j);
    if (cost > reach * p) continue;
    size = p;
    best = j;
  }
  return best;
}

/// A nonbasic to its other bound.
void DenseSimplex::flip(std::size_t q) {
  const auto v = now_.tableau.nonbasic(q);
  const bool up = now_.direction[q] == 1;
  const double to = up ? now_.upper[v] : now_.lower[v];
  const double change = to - now_.at[q];
  for (std::size_t p = 0; p < now_.value.size(); ++p)
    now_.value[p] -= now_.tableau.entry(p, q) * change;
  now_.at[q] = to;
  now_.at_upper[v] = up;
  now_.direction[q] = up ? -1 : 1;
}

void DenseSimplex::pivot(const Broken& broken, std::size_t q) {
  const auto p = broken.p;
  const auto out = now_.tableau.basic(p);
  const double bound = broken.below ? now_.lower[out] : now_.upper[out];
  const double change = (now_.value[p] - bound) / now_.tableau.entry(p, q);
  const double entered = now_.at[q] + change;
  for (std::size_t i = 0; i < now_.value.size(); ++i)
    now_.value[i] -= now_.tableau.entry(i, q) * change;
  now_.tableau.exchange(p, q);
  now_.value[p] = entered;
  now_.at[q] = bound;
  now_.at_upper[out] = !broken.below;
  now_.direction[q] = broken.below ? 1 : -1;
  if (now_.lower[out] == now_.upper[out]) now_.direction[q] = 0;
}

/// Whether tableau row `p`, added up anew from the program's own rows, contradicts the bounds.
bool DenseSimplex::contradiction(std::size_t p) {
  multipliers_ = row_combination(program_, now_.tableau, p);
  double largest = 0;
  for (const double y : multipliers_) largest = std::max(largest, std::fabs(y));
  for (double& y : multipliers_)
    if (std::fabs(y) <= 1e-12 * largest) y = 0;
  const auto n = program_.columns();
  const auto sum = combined_rows(program_, multipliers_);
  Reach reach;
  for (std::size_t i = 0; i < multipliers_.size(); ++i)
    if (multipliers_[i] != 0) reach.add(multipliers_[i], now_.lower[n + i], now_.upper[n + i]);
  for (std::size_t j = 0; j < n; ++j)
    if (std::fabs(sum[j]) > 1e-11 * largest) reach.add(-sum[j], now_.lower[j], now_.upper[j]);
  const double clearly = 1e-10 * reach.size;
  if (reach.most < -clearly)
    for (double& y : multipliers_) y = -y;
  return reach.least > clearly || reach.most < -clearly;
}

}  // namespace leastwise::solver
