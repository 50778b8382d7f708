#include <algorithm>
#include <cmath>

#include "solver/dense_simplex.hpp"

namespace leastwise::solver {
namespace {

using model::infinity;

/// After so many pivots a tableau that is kept is built anew.
constexpr int most_pivots_kept = 16;

/// By how much one unit of a nonbasic lowers the cost.
double gain(double direction, double reduced) {
  return direction == 2 ? std::fabs(reduced) : -direction * reduced;
}

}  // namespace

void DenseSimplex::set_costs(std::span<const double> cost) { program_.set_costs(cost); }

void DenseSimplex::stand_at(const DenseState& state) {
  now_ = state;
  now_.tableau.price(program_.costs());
}

bool DenseSimplex::is_best(const DenseState& state) {
  priced_.resize(state.tableau.width());
  state.tableau.price_out(program_.costs(), priced_.data());
  for (std::size_t q = 0; q < state.direction.size(); ++q)
    if (gain(state.direction[q], priced_[q]) > wrong_reduced_cost) return false;
  return true;
}

bool DenseSimplex::proves(double cost) const {
  return !cheapening() && this->cost() >= cost && now_.tableau.agrees_with(program_);
}

bool DenseSimplex::make_sound() {
  if (now_.tableau.pivots() <= most_pivots_kept && now_.tableau.agrees_with(program_)) return true;
  if (!now_.tableau.rebuild(program_)) return false;
  place();
  return now_.tableau.agrees_with(program_);
}

void DenseSimplex::improve() {
  const std::size_t most_steps = 50 + program_.rows();
  for (std::size_t steps = 0; steps < most_steps; ++steps) {
    const auto q = cheapening();
    if (!q || !step(*q)) return;
  }
}

/// The nonbasic by which most is saved.
std::optional<std::size_t> DenseSimplex::cheapening() const {
  std::optional<std::size_t> best;
  double most = wrong_reduced_cost;
  for (std::size_t q = 0; q < now_.direction.size(); ++q) {
    const double saved = gain(now_.direction[q], now_.tableau.reduced()[q]);
    if (saved <= most) continue;
    most = saved;
    best = q;
  }
  return best;
}

/// Moves nonbasic `q` as far as the bounds let it. Returns: false when nothing stops it.
bool DenseSimplex::step(std::size_t q) {
  const double direction = now_.direction[q] != 2          ? now_.direction[q]
                           : now_.tableau.reduced()[q] > 0 ? -1
                                                           : 1;
  const auto v = now_.tableau.nonbasic(q);
  const double whole = now_.upper[v] - now_.lower[v];
  double reach = whole;
  double size = 0;
  Broken out;
  for (std::size_t p = 0; p < now_.value.size(); ++p) {
    const double falls = now_.tableau.entry(p, q) * direction;  // of basic p, a unit of the step
    if (std::fabs(falls) < pivot_tolerance) continue;
    const auto b = now_.tableau.basic(p);
    const double room = falls > 0 ? now_.value[p] - now_.lower[b] : now_.upper[b] - now_.value[p];
    if (std::isinf(room)) continue;
    const double here = std::max(room, 0.0) / std::fabs(falls);
    const double slack = 1e-12 * (1 + here);
    if (!(here < reach - slack || (here <= reach + slack && std::fabs(falls) > size && size > 0)))
      continue;
    reach = std::min(reach, here);
    size = std::fabs(falls);
    out = {p, 0, falls > 0};
  }
  if (reach == infinity) return false;
  if (size == 0)
    flip(q);
  else
    pivot(out, q);
  return true;
}

}  // namespace leastwise::solver
