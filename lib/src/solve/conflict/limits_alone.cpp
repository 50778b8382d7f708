#include "solve/conflict/limits_alone.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "model/model_edit.hpp"
#include "solve/conflict/elastic_rules.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;
using model::Model;
using solver::SearchStatus;

/// Where equality `r`, whose row does not change with its limit, ends the conflict in one
/// `direction`: the least surplus of that rule alone.
Known<double> equality_alone(const Model& reduced, std::size_t r, double direction,
                             const solver::SearchOptions& options) {
  Model elastic = reduced;
  const auto surplus = make_elastic(elastic);
  std::fill(elastic.cost.begin(), elastic.cost.end(), 0.0);
  std::vector<std::size_t> own;
  for (const auto& s : surplus) {
    const auto column = static_cast<std::size_t>(s.column);
    const bool speaks_for = s.rule == r || static_cast<int>(s.rule) == elastic.rules[r].paired_rule;
    if (speaks_for && s.sign * direction < 0) {
      elastic.cost[column] = 1;
      own.push_back(column);
    } else {
      elastic.column_upper[column] = 0;
    }
  }
  const auto found = solver::search(elastic, options);
  if (found.status == SearchStatus::infeasible) return Known<double>::none();
  if (found.status != SearchStatus::optimal) return {};
  double amount = 0;
  for (const std::size_t column : own) amount += found.x[column];
  const auto& rule = reduced.rules[r];
  return rule.limit + direction * amount / rule.rhs_derivative;
}

/// The two sides of equality `r` as rules of their own: its minimum, then its maximum.
std::pair<std::size_t, std::size_t> split_equality(Model& model, std::size_t r) {
  auto high = model.rules[r];
  model.rules[r].side = RuleSide::min;
  high.side = RuleSide::max;
  if (high.row >= 0) {
    model::ModelEdit edit(model);
    high.row = edit.add_row(edit.row(high.row), 0, 0);
  }
  model.rules.push_back(std::move(high));
  model::refresh_bounds(model);
  return {r, model.rules.size() - 1};
}

/// Where a limit ends the conflict when it moves from `limit` in `direction`; none when even its
/// end there does not help.
template <class PossibleAt>
Known<double> least_move(double limit, double direction, PossibleAt possible_at) {
  double reach = std::max(std::fabs(limit), 1e-3);
  double enough = infinity;
  for (int doubling = 0; doubling < 40; ++doubling, reach *= 2) {
    const double changed = limit + direction * reach;
    const bool floor_reached = direction < 0 && changed <= 0;
    const auto answer = possible_at(floor_reached ? std::min(limit, 0.0) : changed);
    if (answer == Possible::unknown) return {};
    if (answer == Possible::yes) {
      enough = floor_reached ? limit - std::min(limit, 0.0) : reach;
      break;
    }
    if (floor_reached) break;
  }
  if (!std::isfinite(enough)) return Known<double>::none();
  double not_enough = 0;
  for (int halving = 0; halving < 60 && enough - not_enough > 1e-11 * enough; ++halving) {
    const double middle = (not_enough + enough) / 2;
    const auto answer = possible_at(limit + direction * middle);
    if (answer == Possible::unknown) return {};
    (answer == Possible::yes ? enough : not_enough) = middle;
  }
  return limit + direction * enough;
}

Known<double> moved_alone(const Model& reduced, std::size_t r, double direction,
                          const solver::SearchOptions& options) {
  return least_move(reduced.rules[r].limit, direction, [&](double changed) {
    Model moved = reduced;
    model::set_limit(moved, r, changed);
    return possible(moved, options);
  });
}

}  // namespace

Alone limits_alone(const Model& model, const std::vector<Constraint>& conflict,
                   const Constraint& constraint, const solver::SearchOptions& options) {
  const auto none = Known<double>::none();
  Model reduced = keep_only(model, conflict);
  const auto& rule = reduced.rules[constraint.index];
  if (rule.side != RuleSide::exactly && rule.paired_rule < 0) {
    const bool min = rule.side == RuleSide::min;
    const auto end = moved_alone(reduced, constraint.index, min ? -1 : 1, options);
    return min ? Alone{end, none} : Alone{none, end};
  }
  if (rule.coefficient_derivatives.empty())
    return {equality_alone(reduced, constraint.index, -1, options),
            equality_alone(reduced, constraint.index, 1, options)};
  const auto [low, high] = split_equality(reduced, constraint.index);
  return {moved_alone(reduced, low, -1, options), moved_alone(reduced, high, 1, options)};
}

}  // namespace leastwise::solve
