#include "solve/sensitivity/basis_step.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "solve/active_basis.hpp"
#include "solve/index.hpp"
#include "solver/branching.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;
using solver::BasisStatus;
using solver::LinearProgram;
using solver::SearchResult;

/// An interval of changes that shrinks as conditions come in.
struct Range {
  double down = -infinity;
  double up = infinity;

  /// Keeps value + u rate >= 0. Values within rounding of zero count as zero.
  void keep_nonnegative(double value, double rate, double size) {
    if (!std::isfinite(value) || std::fabs(rate) <= 1e-13 * std::max(1.0, size)) return;
    const double room = value <= 1e-9 * size ? 0 : value;
    if (rate > 0)
      down = std::max(down, -room / rate);
    else
      up = std::min(up, -room / rate);
  }
};

/// How everything moves with u when one rule's limit moves.
struct Movement {
  std::vector<double> rate{};  ///< of each column, per u
  int moving_row = -1;         ///< a slack row whose own bounds move, or -1
  double curve = 0;
  std::vector<double> drift{};  ///< of the rule's row, by column
  std::vector<double> v{};  ///< how the duals of the active rows move; along ActiveBasis::rows()
};

/// Rates of the basic columns when the active rows' right-hand sides move by `rhs` per u.
void move_basics(const ActiveBasis& basis, const std::vector<double>& response, double alpha,
                 std::vector<double>& rate) {
  for (std::size_t c = 0; c < response.size(); ++c)
    rate[index(basis.columns()[c])] = response[c] * alpha;
}

Movement move_of_row(const model::Model& model, const model::Rule& rule, const ActiveBasis& basis,
                     const SearchResult& solution) {
  const auto& rows = basis.rows();
  Movement move;
  move.rate.assign(solution.x.size(), 0.0);
  move.drift.assign(solution.x.size(), 0.0);
  std::vector<double> basic_drift(rows.size(), 0.0);
  double alpha = rule.rhs_derivative;
  for (const auto& d : rule.coefficient_derivatives) {
    move.drift[index(d.column)] = d.value;
    alpha -= d.value * solution.x[index(d.column)];
    const int at = basis.position_of_column(d.column);
    if (at >= 0) basic_drift[index(at)] = d.value;
  }
  // The rule's row, and its partner's: held rows move the blend, a slack one only its own bound.
  std::vector<double> rhs(rows.size(), 0.0);
  for (const int row :
       {rule.row, rule.paired_rule < 0 ? -1 : model.rules[index(rule.paired_rule)].row}) {
    if (row < 0) continue;
    const auto k = std::find(rows.begin(), rows.end(), row) - rows.begin();
    if (k < static_cast<std::ptrdiff_t>(rows.size()))
      rhs[static_cast<std::size_t>(k)] = 1;
    else
      move.moving_row = row;
  }
  const auto response = basis.respond(rhs);
  for (std::size_t c = 0; c < response.size(); ++c) move.curve += basic_drift[c] * response[c];
  move_basics(basis, response, alpha, move.rate);
  if (!rule.coefficient_derivatives.empty()) move.v = basis.price(basic_drift);
  return move;
}

Movement move_of_column(const model::Rule& rule, const ActiveBasis& basis,
                        const SearchResult& solution) {
  const auto& rows = basis.rows();
  Movement move;
  move.rate.assign(solution.x.size(), 0.0);
  std::vector<double> rhs(rows.size(), 0.0);
  for (std::size_t k = 0; k < rows.size(); ++k)
    for_each_entry(solution.leaf, rows[k], [&](int j, double a) {
      if (j == rule.column) rhs[k] = -a * rule.rhs_derivative;
    });
  move_basics(basis, basis.respond(rhs), 1, move.rate);
  move.rate[index(rule.column)] = rule.rhs_derivative;
  return move;
}

/// Keeps every basic column and every basic slack within its bounds.
/// `moving_row` is a row whose own bounds move by `moving_rate`, or -1.
void limit_by_primal(const LinearProgram& data, const SearchResult& solution,
                     const std::vector<double>& rate, int moving_row, double moving_rate,
                     Range& range) {
  double mass = 0;
  for (const double v : solution.x) mass = std::max(mass, std::fabs(v));
  for (std::size_t j = 0; j < solution.x.size(); ++j) {
    if (solution.column_standing[j] != BasisStatus::basic) continue;
    range.keep_nonnegative(solution.x[j] - data.lower[j], rate[j], mass);
    range.keep_nonnegative(data.upper[j] - solution.x[j], -rate[j], mass);
  }
  for (std::size_t i = 0; i < solution.row_standing.size(); ++i) {
    if (solution.row_standing[i] != BasisStatus::basic) continue;
    double activity = 0;
    double slope = 0;
    double size = 0;
    for_each_entry(data, static_cast<int>(i), [&](int j, double a) {
      activity += a * solution.x[index(j)];
      slope += a * rate[index(j)];
      size = std::max(size, std::fabs(a));
    });
    if (static_cast<int>(i) == moving_row) slope -= moving_rate;
    range.keep_nonnegative(activity - data.row_lower[i], slope, size * mass);
    range.keep_nonnegative(data.row_upper[i] - activity, -slope, size * mass);
  }
}

/// Keeps the row of a drifting rule slack while its coefficients move and the blend stays.
void limit_by_slack(const model::Rule& rule, const SearchResult& solution, Range& range) {
  const auto& data = solution.leaf;
  double activity = 0;
  double size = 0;
  for_each_entry(data, rule.row, [&](int j, double a) {
    activity += a * solution.x[index(j)];
    size += std::fabs(a * solution.x[index(j)]);
  });
  double slope = 0;
  for (const auto& drift : rule.coefficient_derivatives)
    slope += drift.value * solution.x[index(drift.column)];
  range.keep_nonnegative(activity - data.row_lower[index(rule.row)], slope, size);
  range.keep_nonnegative(data.row_upper[index(rule.row)] - activity, -slope, size);
}

/// Stops where another rule on the same row or column takes over, or contradicts.
void limit_by_other_rules(const model::Model& model, std::size_t r, const SearchResult& solution,
                          Range& range) {
  const auto& rule = model.rules[r];
  if (rule.rhs_derivative == 0) return;
  auto [lower, upper] = model::bounds_without(model, r);
  if (rule.row < 0 && !solution.path.empty()) {
    model::Model others = model;
    others.rules[r].active = false;
    if (rule.paired_rule >= 0) others.rules[index(rule.paired_rule)].active = false;
    model::refresh_bounds(others);
    solver::NodeBounds bounds;
    solver::Branching(others).apply(solution.path, bounds);
    lower = bounds.lower[index(rule.column)];
    upper = bounds.upper[index(rule.column)];
  }
  const double now = rule.limit * rule.rhs_derivative;
  range.keep_nonnegative(now - lower, rule.rhs_derivative, std::fabs(now));
  range.keep_nonnegative(upper - now, -rule.rhs_derivative, std::fabs(now));
}

/// Keeps the sign of every reduced cost, d_j + u y_k (v.A_j - drift_j), and of every dual of an
/// active row, y_i - u y_k v_i.
void limit_by_dual(const ActiveBasis& basis, const SearchResult& solution, const Movement& move,
                   double y_k, Range& range) {
  const auto& data = solution.leaf;
  const auto& rows = basis.rows();
  const auto reduced = solver::reduced_costs(data, solution.y);
  std::vector<double> slope(solution.x.size(), 0.0);
  for (std::size_t k = 0; k < rows.size(); ++k)
    for_each_entry(data, rows[k], [&](int j, double a) { slope[index(j)] += move.v[k] * a; });
  double cost_size = 0;
  for (const double c : data.cost) cost_size = std::max(cost_size, std::fabs(c));
  for (std::size_t j = 0; j < reduced.size(); ++j) {
    if (data.lower[j] == data.upper[j]) continue;
    const double rate = y_k * (slope[j] - move.drift[j]);
    if (solution.column_standing[j] == BasisStatus::at_lower)
      range.keep_nonnegative(reduced[j], rate, cost_size);
    if (solution.column_standing[j] == BasisStatus::at_upper)
      range.keep_nonnegative(-reduced[j], -rate, cost_size);
  }
  for (std::size_t k = 0; k < rows.size(); ++k) {
    const auto i = index(rows[k]);
    if (data.row_lower[i] == data.row_upper[i]) continue;
    const double sign = solution.row_standing[i] == BasisStatus::at_lower ? 1 : -1;
    double size = 0;
    for_each_entry(data, rows[k], [&](int, double a) { size = std::max(size, std::fabs(a)); });
    range.keep_nonnegative(sign * solution.y[i], -sign * y_k * move.v[k],
                           size > 0 ? cost_size / size : 0);
  }
}

/// Back from u to t = u / (1 - curve u); 1 - curve u must stay positive.
double change_of(double u, double curve) {
  if (curve == 0 || u == 0) return u;
  if (!std::isfinite(u)) {
    const bool pole = (u > 0) == (curve > 0);
    return pole ? u : -1 / curve;
  }
  const double rest = 1 - curve * u;
  return rest <= 0 ? (u > 0 ? infinity : -infinity) : u / rest;
}

}  // namespace

std::optional<BasisStep> basis_step(const model::Model& model, std::size_t r,
                                    const solver::SearchResult& solution) {
  const auto& rule = model.rules[r];
  ActiveBasis basis(solution.leaf, solution);
  if (!basis.factorise()) return std::nullopt;
  const bool drifts = rule.row >= 0 && !rule.coefficient_derivatives.empty();
  const Movement move = rule.row >= 0 ? move_of_row(model, rule, basis, solution)
                                      : move_of_column(rule, basis, solution);
  Range range;
  if (drifts && move.moving_row >= 0) {  // a slack rule moves nothing but its own row
    limit_by_slack(rule, solution, range);
    return BasisStep{range.down, range.up, 0};
  }
  limit_by_primal(solution.leaf, solution, move.rate, move.moving_row, rule.rhs_derivative, range);
  limit_by_other_rules(model, r, solution, range);
  if (drifts) limit_by_dual(basis, solution, move, solution.y[index(rule.row)], range);
  return BasisStep{change_of(range.down, move.curve), change_of(range.up, move.curve), move.curve};
}

}  // namespace leastwise::solve
