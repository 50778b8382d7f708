#include <algorithm>
#include <cmath>

#include "solver/dense_simplex.hpp"
#include "solver/dense_values.hpp"

// Parametric steps: how the present basis moves with a limit, where it stops being optimal, and
// which basis is next.

namespace leastwise::solver {
namespace {

using model::infinity;

/// What is nearer to its bound, in scaled rows, is at it.
constexpr double slack_of_bounds = 1e-11;
constexpr double slack_of_reduced = 1e-11;
/// A rate below this share of the largest is rounding.
constexpr double no_rate = 1e-12;

double largest_of(const std::vector<double>& rates) {
  double largest = 0;
  for (const double rate : rates) largest = std::max(largest, std::fabs(rate));
  return largest;
}

/// Where room + rate s + bend s^2, at zero not below nothing, goes below; infinity: nowhere.
double end_of_room(double room, double rate, double bend) {
  if (bend == 0) return rate < 0 ? room / -rate : infinity;
  if (room == 0) {
    if (rate != 0) return rate < 0 ? 0 : bend < 0 ? rate / -bend : infinity;
    return bend < 0 ? 0 : infinity;
  }
  const double square = rate * rate - 4 * room * bend;
  if (square < 0) return infinity;
  // room over its larger root, so that nothing cancels.
  const double sum = -(rate + std::copysign(std::sqrt(square), rate)) / 2;
  double end = infinity;
  for (const double root : {sum != 0 ? room / sum : infinity, sum / bend})
    if (root > 0) end = std::min(end, root);
  return end;
}

}  // namespace

/// How everything moves with s = |t| / (1 + curve |t|), t the change of the parameter.
struct DenseSimplex::Flow {
  std::vector<double> rate{};     ///< of each basic
  std::vector<double> reduced{};  ///< of each reduced cost; empty: they stay
  double curve = 0;
  bool manageable = true;
};

namespace {

/// Scaled derivatives of a row's coefficients, one for each variable.
std::vector<double> scaled_drift(const ScaledProgram& program, const Motion& motion) {
  std::vector<double> drift(program.variables(), 0.0);
  for (const auto& entry : motion.drift) {
    const auto j = static_cast<std::size_t>(entry.column);
    drift[j] = entry.value * program.unit(j) / program.unit(motion.variable);
  }
  return drift;
}

}  // namespace

void DenseSimplex::set_row(std::size_t i, std::span<const model::Entry> entries) {
  const auto v = program_.columns() + i;
  std::vector<double> change(program_.variables(), 0.0);
  for (const auto& entry : program_.row(i)) change[entry.column] = -entry.value;
  program_.set_row(i, entries);
  for (const auto& entry : program_.row(i)) change[entry.column] += entry.value;
  if (now_.tableau.asleep(v)) return;
  if (!now_.tableau.change_row(v, change) && !now_.tableau.rebuild(program_))
    now_.tableau.reset(program_);
}

void DenseSimplex::keep_basis() {
  if (now_.at.size() != now_.tableau.columns()) {
    place();
    return;
  }
  for (std::size_t q = 0; q < now_.at.size(); ++q) {
    const auto v = now_.tableau.nonbasic(q);
    const double lower = now_.lower[v];
    const double upper = now_.upper[v];
    if (lower == upper) {
      now_.at[q] = lower;
      now_.direction[q] = 0;
      continue;
    }
    if (now_.direction[q] == 2) continue;
    if (now_.direction[q] == 0) now_.at_upper[v] = now_.tableau.reduced()[q] < 0;
    if (std::isinf(now_.at_upper[v] ? upper : lower)) now_.at_upper[v] = !now_.at_upper[v];
    now_.at[q] = now_.at_upper[v] ? upper : lower;
    now_.direction[q] = now_.at_upper[v] ? -1 : 1;
  }
  set_values();
}

/// Bounds that meet here and part in a moment hold a nonbasic by the one that its reduced cost
/// wants.
void DenseSimplex::part_bounds(const Motion& motion) {
  const auto v = motion.variable;
  if (motion.lower_rate == motion.upper_rate || now_.tableau.is_basic(v)) return;
  const auto q = now_.tableau.column_of(v);
  if (now_.lower[v] != now_.upper[v]) return;
  now_.at_upper[v] = now_.tableau.reduced()[q] < 0;
  now_.direction[q] = now_.at_upper[v] ? -1 : 1;
}

double DenseSimplex::along(const std::vector<double>& weights) const {
  double sum = 0;
  for (std::size_t q = 0; q < now_.at.size(); ++q)
    sum += weights[now_.tableau.nonbasic(q)] * now_.at[q];
  for (std::size_t p = 0; p < now_.value.size(); ++p)
    sum += weights[now_.tableau.basic(p)] * now_.value[p];
  return sum;
}

/// How the basic variables, and of a row that drifts the reduced costs, follow those nonbasics
/// whose bounds or rows move.
DenseSimplex::Flow DenseSimplex::flow_of(std::span<const Motion> motions, double direction) const {
  Flow flow;
  flow.rate.assign(now_.value.size(), 0.0);
  int held = 0;
  for (const auto& motion : motions) {
    const auto v = motion.variable;
    if (now_.tableau.is_basic(v)) continue;
    const auto q = now_.tableau.column_of(v);
    double alpha = (now_.at_upper[v] ? motion.upper_rate : motion.lower_rate) / program_.unit(v);
    if (++held > 1 && (!motion.drift.empty() || !flow.reduced.empty())) flow.manageable = false;
    if (!motion.drift.empty()) {
      const auto drift = scaled_drift(program_, motion);
      alpha -= along(drift);
      flow.reduced.resize(now_.tableau.width());
      now_.tableau.price_out(drift, flow.reduced.data());
      flow.curve = direction * flow.reduced[q];
      const double own = now_.tableau.reduced()[q];
      for (double& rate : flow.reduced) rate *= -direction * own;
      flow.reduced[q] = 0;  // it keeps its sign
    }
    for (std::size_t p = 0; p < flow.rate.size(); ++p)
      flow.rate[p] -= now_.tableau.entry(p, q) * alpha * direction;
  }
  return flow;
}

/// The rows of the basic variables whose own bounds or coefficients move beside the flow.
DenseSimplex::Ends DenseSimplex::ends_of_moving(const Motion& motion, const Flow& flow,
                                                double direction) const {
  const auto v = motion.variable;
  const auto p = now_.tableau.row_of(v);
  double drift_here = 0;
  double drift_rate = 0;
  if (!motion.drift.empty()) {
    const auto drift = scaled_drift(program_, motion);
    drift_here = direction * along(drift);
    for (std::size_t k = 0; k < flow.rate.size(); ++k)
      drift_rate += direction * drift[now_.tableau.basic(k)] * flow.rate[k];
  }
  const auto end = [&](double bound, double bound_rate, double sign) {
    if (std::isinf(bound)) return infinity;
    double room = sign * (now_.value[p] - bound);
    if (room <= slack_of_bounds * (1 + std::fabs(bound))) room = 0;
    const double moved = direction * bound_rate / program_.unit(v);
    double rate = sign * (flow.rate[p] + drift_here - moved) - flow.curve * room;
    const double size = std::fabs(flow.rate[p]) + std::fabs(drift_here) + std::fabs(moved);
    if (std::fabs(rate) <= no_rate * size) rate = 0;
    return end_of_room(room, rate, sign * (drift_rate - flow.curve * flow.rate[p]));
  };
  return {end(now_.lower[v], motion.lower_rate, 1), end(now_.upper[v], motion.upper_rate, -1)};
}

/// The first of the ends within what rounding allows; of several the one that moves fastest.
class DenseSimplex::FirstEnd {
 public:
  void add(double room, double rate, double slack, const Breakpoint& at) {
    if (rate >= 0) return;
    const double reach = (std::max(room, 0.0) + slack) / -rate;
    add_end(std::max(room, 0.0) / -rate, reach, -rate, at);
  }
  void add_end(double end, double reach, double speed, const Breakpoint& at) {
    reach_ = std::min(reach_, reach);
    all_.push_back({end, speed, at});
  }
  [[nodiscard]] Breakpoint chosen(double& end) const {
    Breakpoint best;
    double speed = -1;
    end = infinity;
    for (const auto& one : all_) {
      if (one.end > reach_ || one.speed <= speed) continue;
      speed = one.speed;
      end = one.end;
      best = one.at;
    }
    return best;
  }

 private:
  struct One {
    double end = 0;
    double speed = 0;
    Breakpoint at{};
  };
  double reach_ = infinity;
  std::vector<One> all_{};
};

Breakpoint DenseSimplex::next_breakpoint(std::span<const Motion> motions, double direction) {
  for (const auto& motion : motions) part_bounds(motion);
  const auto flow = flow_of(motions, direction);
  if (!flow.manageable) return {.kind = Breakpoint::Kind::unknown, .change = 0};
  FirstEnd first;
  add_ends_of_values(motions, flow, direction, first);
  add_ends_of_reduced_costs(flow, first);
  double s = infinity;
  auto at = first.chosen(s);
  at.curve = direction * flow.curve;
  const double rest = 1 - flow.curve * s;
  at.change = std::isinf(s) || rest <= 1e-12 ? infinity : s / rest;
  if (std::isinf(at.change)) at.kind = Breakpoint::Kind::none;
  if (std::isinf(s) && flow.curve < 0) at = {Breakpoint::Kind::unknown, -1 / flow.curve, at.curve};
  return at;
}

void DenseSimplex::add_ends_of_values(std::span<const Motion> motions, const Flow& flow,
                                      double direction, FirstEnd& first) const {
  using Kind = Breakpoint::Kind;
  std::vector<char> moves_itself(now_.value.size(), 0);
  for (const auto& motion : motions) {
    if (!now_.tableau.is_basic(motion.variable) || now_.tableau.asleep(motion.variable)) continue;
    const auto p = now_.tableau.row_of(motion.variable);
    moves_itself[p] = 1;
    const auto ends = ends_of_moving(motion, flow, direction);
    if (std::isfinite(ends.low)) first.add_end(ends.low, ends.low, 1, {Kind::bound, 0, 0, p, true});
    if (std::isfinite(ends.high))
      first.add_end(ends.high, ends.high, 1, {Kind::bound, 0, 0, p, false});
  }
  const double negligible = no_rate * largest_of(flow.rate);
  for (std::size_t p = 0; p < flow.rate.size(); ++p) {
    const double rate = flow.rate[p];
    if (moves_itself[p] || std::fabs(rate) <= negligible) continue;
    const auto v = now_.tableau.basic(p);
    const double bound = rate < 0 ? now_.lower[v] : now_.upper[v];
    if (std::isinf(bound)) continue;
    const double slack = slack_of_bounds * (1 + std::fabs(bound));
    double room = std::fabs(now_.value[p] - bound);
    if ((now_.value[p] - bound) * rate > 0 || room <= slack) room = 0;
    first.add(room, -std::fabs(rate), slack, {Kind::bound, 0, 0, p, rate < 0});
  }
}

void DenseSimplex::add_ends_of_reduced_costs(const Flow& flow, FirstEnd& first) const {
  const double negligible = no_rate * largest_of(flow.reduced);
  for (std::size_t q = 0; q < now_.at.size() && !flow.reduced.empty(); ++q) {
    const double direction = now_.direction[q];
    if (direction == 0 || std::fabs(flow.reduced[q]) <= negligible) continue;
    double room = direction == 2 ? 0 : direction * now_.tableau.reduced()[q];
    if (room <= slack_of_reduced) room = 0;
    const double rate = direction == 2 ? -std::fabs(flow.reduced[q]) : direction * flow.reduced[q];
    first.add(room, rate, slack_of_reduced, {Breakpoint::Kind::reduced_cost, 0, 0, q, false});
  }
}

DenseSimplex::Turn DenseSimplex::turn(const Breakpoint& at) {
  if (at.kind == Breakpoint::Kind::reduced_cost) return step(at.index) ? Turn::taken : Turn::stuck;
  const Broken broken{at.index, 0, at.below};
  if (const auto q = entering(broken)) {
    pivot(broken, *q);
    return Turn::taken;
  }
  return Turn::impossible;
}

std::vector<double> DenseSimplex::multipliers_of(std::size_t p) const {
  auto y = row_combination(program_, now_.tableau, p);
  for (std::size_t i = 0; i < y.size(); ++i) y[i] *= program_.multiplier_unit(i);
  return y;
}

}  // namespace leastwise::solver
