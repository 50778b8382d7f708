#include "insight/conflict.hpp"

#include <algorithm>
#include <cmath>

#include "insight/conflict_proof.hpp"
#include "solver/certificate.hpp"

namespace leastwise::insight {
namespace {

using model::infinity;
using model::Model;
using solver::SearchStatus;

enum class Possible { yes, no, unknown };

struct Verdict {
  Possible possible = Possible::unknown;
  /// After `no`, when asked for: what its proof rests on. Empty where limits cross without a proof.
  std::vector<Demand> behind{};
};

/// Whether any blend obeys `model`; costs do not matter.
Verdict judge(Model model, const solver::SearchOptions& options, bool explain) {
  std::fill(model.cost.begin(), model.cost.end(), 0.0);
  auto any = options;
  any.any = true;
  any.record_leaves = explain;
  const auto found = solver::search(model, any);
  if (found.status == SearchStatus::optimal) return {Possible::yes};
  if (found.status != SearchStatus::infeasible) return {Possible::unknown};
  return {Possible::no, explain ? demands_behind(model, found.leaves) : std::vector<Demand>{}};
}

Possible possible(const Model& model, const solver::SearchOptions& options) {
  return judge(model, options, false).possible;
}

/// The rules that the proof of an infeasible relaxation rests on; all demands when the relaxation
/// is feasible or no proof is to be had.
std::vector<Demand> suspects(const Model& model, const solver::SearchOptions& options) {
  auto all = demands_of(model);
  if (model::bounds_cross(model)) return all;
  auto y = solver::prove_infeasible(solver::relaxation(model), options.deadline);
  if (y.empty()) return all;
  auto named = demands_behind(model, {{{}, solver::Leaf::Outcome::infeasible, std::move(y)}});
  if (possible(keep_only(model, named), options) == Possible::no) return named;
  return all;
}

/// Those of the conflicting `demands` that its proof rests on. The proof of these may rest on fewer
/// again, and so on.
std::vector<Demand> without_bystanders(const Model& model, std::vector<Demand> demands,
                                       std::vector<Demand> behind,
                                       const solver::SearchOptions& options) {
  while (!behind.empty() && behind.size() < demands.size()) {
    auto verdict = judge(keep_only(model, behind), options, true);
    if (verdict.possible != Possible::no) break;  // the proof was at the edge of rounding
    demands = std::move(behind);
    behind = std::move(verdict.behind);
  }
  return demands;
}

bool contains(const std::vector<Demand>& demands, Demand::Kind kind, std::size_t index) {
  return std::any_of(demands.begin(), demands.end(),
                     [&](const Demand& d) { return d.kind == kind && d.index == index; });
}

/// Rounds `value` to six significant digits, upward when `up`. A value within a billionth of such a
/// number is taken for it: the solver's own tolerance is that wide.
double rounded_outward(double value, bool up) {
  if (value == 0 || !std::isfinite(value)) return value;
  const double scale = std::pow(10.0, 5 - std::floor(std::log10(std::fabs(value))));
  const double steps = value * scale;
  const double nearest = std::round(steps);
  if (std::fabs(steps - nearest) < 1e-4) return nearest / scale;
  return (up ? std::ceil(steps) : std::floor(steps)) / scale;
}

}  // namespace

std::vector<Demand> demands_of(const Model& model) {
  std::vector<Demand> all;
  for (std::size_t r = 0; r < model.rules.size(); ++r)
    if (model.rules[r].active) all.push_back({Demand::Kind::rule, r});
  for (std::size_t k = 0; k < model.minima.size(); ++k)
    if (model.minima[k].active) all.push_back({Demand::Kind::minimum_if_used, k});
  for (std::size_t k = 0; k < model.apart.size(); ++k)
    if (model.apart[k].active) all.push_back({Demand::Kind::apart, k});
  if (model.bins) all.push_back({Demand::Kind::bins, 0});
  return all;
}

Model keep_only(const Model& model, const std::vector<Demand>& kept) {
  Model reduced = model;
  for (std::size_t r = 0; r < reduced.rules.size(); ++r)
    reduced.rules[r].active = contains(kept, Demand::Kind::rule, r);
  for (std::size_t k = 0; k < reduced.minima.size(); ++k)
    reduced.minima[k].active = contains(kept, Demand::Kind::minimum_if_used, k);
  for (std::size_t k = 0; k < reduced.apart.size(); ++k)
    reduced.apart[k].active = contains(kept, Demand::Kind::apart, k);
  if (!contains(kept, Demand::Kind::bins, 0)) reduced.bins.reset();
  model::refresh_bounds(reduced);
  return reduced;
}

Irreducible irreducible_conflict(const Model& model, const solver::SearchOptions& options) {
  Irreducible result{suspects(model, options), true};
  // Either-or rules are tried first, so that what remains speaks of plain limits where it can.
  auto order = result.demands;
  std::stable_sort(order.begin(), order.end(), [](const Demand& a, const Demand& b) {
    return static_cast<int>(a.kind) > static_cast<int>(b.kind);
  });
  for (const auto& demand : order) {
    if (!contains(result.demands, demand.kind, demand.index)) continue;
    std::vector<Demand> without;
    for (const auto& kept : result.demands)
      if (kept.kind != demand.kind || kept.index != demand.index) without.push_back(kept);
    auto verdict = judge(keep_only(model, without), options, true);
    switch (verdict.possible) {
      case Possible::no:
        result.demands =
            without_bystanders(model, std::move(without), std::move(verdict.behind), options);
        break;
      case Possible::yes:
        break;
      case Possible::unknown:
        result.irreducible = false;
        break;
    }
  }
  return result;
}

namespace {

/// A rule's own surplus column in the elastic program, and what a kg of it means to the user.
struct Surplus {
  std::size_t rule = 0;
  int column = 0;
  double sign = 1;  ///< +1: lowers the limit, -1: raises it
};

/// Adds to every rule a surplus that lets it give way; rules on columns become rows first.
std::vector<Surplus> make_elastic(Model& elastic) {
  std::vector<Surplus> surplus;
  std::vector<std::vector<model::Entry>> rows(static_cast<std::size_t>(elastic.rows));
  for (std::size_t i = 0; i < rows.size(); ++i)
    rows[i].assign(elastic.entries.begin() + elastic.row_start[i],
                   elastic.entries.begin() + elastic.row_start[i + 1]);
  for (auto& rule : elastic.rules) {
    if (rule.row >= 0) continue;
    rule.row = static_cast<int>(rows.size());
    rows.push_back({{rule.column, 1.0}});
    rule.column = -1;
  }
  const auto add = [&](std::size_t r, double sign) {
    surplus.push_back({r, elastic.columns, sign});
    rows[static_cast<std::size_t>(elastic.rules[r].row)].push_back({elastic.columns, sign});
    if (elastic.rules[r].partner >= 0) {
      const auto& partner = elastic.rules[static_cast<std::size_t>(elastic.rules[r].partner)];
      rows[static_cast<std::size_t>(partner.row)].push_back({elastic.columns, sign});
    }
    ++elastic.columns;
    elastic.family_of.push_back(-1);
    elastic.is_granule.push_back(0);
    elastic.cost.push_back(0);
  };
  for (std::size_t r = 0; r < elastic.rules.size(); ++r) {
    if (!elastic.rules[r].active || model::is_guard(elastic.rules[r].kind)) continue;
    const int partner = elastic.rules[r].partner;
    if (partner >= 0 && partner < static_cast<int>(r)) continue;  // has its surplus already
    if (partner >= 0 || elastic.rules[r].side != RuleSide::max) add(r, 1);
    if (partner >= 0 || elastic.rules[r].side != RuleSide::min) add(r, -1);
  }
  elastic.rows = static_cast<int>(rows.size());
  elastic.entries.clear();
  elastic.row_start.assign(1, 0);
  for (const auto& row : rows) {
    elastic.entries.insert(elastic.entries.end(), row.begin(), row.end());
    elastic.row_start.push_back(static_cast<int>(elastic.entries.size()));
  }
  elastic.row_lower.resize(rows.size());
  elastic.row_upper.resize(rows.size());
  elastic.column_lower.resize(static_cast<std::size_t>(elastic.columns));
  elastic.column_upper.resize(static_cast<std::size_t>(elastic.columns));
  model::refresh_bounds(elastic);
  return surplus;
}

/// User's units per unit of surplus in the rule's row, at blend `x`; 0 where no other limit would
/// help, as for the coating of powders when there is no granule.
double user_units(const model::Rule& rule, const std::vector<double>& x) {
  if (rule.drift.empty()) return rule.rhs_rate == 0 ? 0 : 1 / rule.rhs_rate;
  double rate = 0;
  for (const auto& drift : rule.drift)
    rate -= drift.value * x[static_cast<std::size_t>(drift.column)];
  return rate > 0 ? 1 / rate : 0;
}

/// How far an equality must move, either way: the least surplus of that rule alone. What is
/// possible on one side says nothing of the other, so both are in one program.
double shortfall_of_equality(const Model& reduced, std::size_t r,
                             const solver::SearchOptions& options) {
  Model elastic = reduced;
  const auto surplus = make_elastic(elastic);
  std::fill(elastic.cost.begin(), elastic.cost.end(), 0.0);
  for (const auto& s : surplus) {
    const auto column = static_cast<std::size_t>(s.column);
    const bool own = s.rule == r || static_cast<int>(s.rule) == elastic.rules[r].partner;
    if (own)
      elastic.cost[column] = 1;
    else
      elastic.column_upper[column] = 0;
  }
  const auto found = solver::search(elastic, options);
  if (found.status != SearchStatus::optimal) return infinity;
  double amount = 0;
  for (const auto& s : surplus)
    amount += found.x[static_cast<std::size_t>(s.column)] *
              (elastic.cost[static_cast<std::size_t>(s.column)] > 0
                   ? user_units(elastic.rules[s.rule], found.x)
                   : 0);
  // Giving way all the way to zero is dropping the rule, not changing its limit.
  return amount < std::fabs(reduced.rules[r].limit) * (1 - 1e-9) ? amount : infinity;
}

/// How far a limit must move in `direction` until `possible_at` the moved one; infinity when even
/// its end there does not help.
template <class PossibleAt>
double least_move(double limit, double direction, PossibleAt possible_at) {
  double reach = std::max(std::fabs(limit), 1e-3);
  double enough = infinity;
  for (int doubling = 0; doubling < 40; ++doubling, reach *= 2) {
    const double changed = limit + direction * reach;
    const bool floor_reached = direction < 0 && changed <= 0;
    if (possible_at(floor_reached ? std::min(limit, 0.0) : changed)) {
      enough = floor_reached ? limit - std::min(limit, 0.0) : reach;
      break;
    }
    if (floor_reached) break;
  }
  if (!std::isfinite(enough)) return infinity;
  double not_enough = 0;
  for (int halving = 0; halving < 60 && enough - not_enough > 1e-11 * enough; ++halving) {
    const double middle = (not_enough + enough) / 2;
    (possible_at(limit + direction * middle) ? enough : not_enough) = middle;
  }
  return enough;
}

}  // namespace

double shortfall(const Model& model, const std::vector<Demand>& conflict, const Demand& demand,
                 const solver::SearchOptions& options) {
  const auto& asked = model.rules[demand.index];
  if (asked.side == RuleSide::exactly || asked.partner >= 0)
    return shortfall_of_equality(keep_only(model, conflict), demand.index, options);
  const Model reduced = keep_only(model, conflict);
  const auto possible_at = [&](double changed) {
    Model moved = reduced;
    model::set_limit(moved, demand.index, changed);
    return possible(moved, options) == Possible::yes;
  };
  const auto& rule = reduced.rules[demand.index];
  return least_move(rule.limit, rule.side == RuleSide::min ? -1 : 1, possible_at);
}

std::vector<Relaxation> nearest_limits(const Scenario& scenario, const Model& model,
                                       const solver::SearchOptions& options) {
  Model elastic = model;
  const auto surplus = make_elastic(elastic);
  std::fill(elastic.cost.begin(), elastic.cost.end(), 0.0);
  // A first guess of the blend, for weights that depend on it: everything in equal parts.
  std::vector<double> x(static_cast<std::size_t>(elastic.columns), 1.0);
  const double guess = model.basis == Basis::per_tonne ? 1000.0 : 300.0;
  for (std::size_t j = 0; j < model.material_of.size(); ++j)
    x[j] = guess / std::max<double>(1, static_cast<double>(scenario.materials().size()));
  if (model.total_column >= 0) x[static_cast<std::size_t>(model.total_column)] = guess;
  double last = infinity;
  std::vector<double> best;
  for (int round = 0; round < 12; ++round) {
    for (const auto& s : surplus) {
      const auto& rule = elastic.rules[s.rule];
      const double size = rule.limit == 0 ? 1.0 : std::fabs(rule.limit);
      const double units = user_units(rule, x);
      elastic.cost[static_cast<std::size_t>(s.column)] = std::max(units / size, 1e-9);
    }
    const auto found = solver::search(elastic, options);
    if (found.status != SearchStatus::optimal) break;
    double change = 0;
    for (const auto& s : surplus) {
      const auto& rule = elastic.rules[s.rule];
      change += found.x[static_cast<std::size_t>(s.column)] * user_units(rule, found.x) /
                (rule.limit == 0 ? 1.0 : std::fabs(rule.limit));
    }
    if (change >= last * (1 - 1e-9)) break;
    last = change;
    best = found.x;
    x = found.x;
  }
  std::vector<Relaxation> moved;
  if (best.empty()) return moved;
  for (const auto& s : surplus) {
    const double amount = best[static_cast<std::size_t>(s.column)];
    const auto& rule = elastic.rules[s.rule];
    const double change = amount * user_units(rule, best);
    if (change <= 1e-8 * std::max(std::fabs(rule.limit), 1e-6)) continue;
    double limit = rule.limit - s.sign * change;
    if (std::fabs(limit) <= 1e-9 * std::fabs(rule.limit)) limit = 0;  // all of it: rounding aside
    moved.push_back({s.rule, rounded_outward(limit, s.sign < 0)});
  }
  return moved;
}

}  // namespace leastwise::insight
