#include "solve/conflict/conflict.hpp"

#include <algorithm>
#include <cmath>

#include "solve/conflict/conflict_proof.hpp"
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
    if (!elastic.rules[r].active || rules::is_guard(elastic.rules[r].kind)) continue;
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
    const bool speaks_for = s.rule == r || static_cast<int>(s.rule) == elastic.rules[r].partner;
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
  return rule.limit + direction * amount / rule.rhs_rate;
}

/// The two sides of equality `r` as rules of their own: its minimum, then its maximum.
std::pair<std::size_t, std::size_t> split_equality(Model& model, std::size_t r) {
  auto high = model.rules[r];
  model.rules[r].side = RuleSide::min;
  high.side = RuleSide::max;
  if (high.row >= 0) {
    const auto row = static_cast<std::size_t>(high.row);
    const std::vector<model::Entry> entries(model.entries.begin() + model.row_start[row],
                                            model.entries.begin() + model.row_start[row + 1]);
    model.entries.insert(model.entries.end(), entries.begin(), entries.end());
    model.row_start.push_back(static_cast<int>(model.entries.size()));
    model.row_lower.push_back(0);
    model.row_upper.push_back(0);
    high.row = model.rows++;
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

Alone limits_alone(const Model& model, const std::vector<Demand>& conflict, const Demand& demand,
                   const solver::SearchOptions& options) {
  const auto none = Known<double>::none();
  Model reduced = keep_only(model, conflict);
  const auto& rule = reduced.rules[demand.index];
  if (rule.side != RuleSide::exactly && rule.partner < 0) {
    const bool min = rule.side == RuleSide::min;
    const auto end = moved_alone(reduced, demand.index, min ? -1 : 1, options);
    return min ? Alone{end, none} : Alone{none, end};
  }
  if (rule.drift.empty())
    return {equality_alone(reduced, demand.index, -1, options),
            equality_alone(reduced, demand.index, 1, options)};
  const auto [low, high] = split_equality(reduced, demand.index);
  return {moved_alone(reduced, low, -1, options), moved_alone(reduced, high, 1, options)};
}

namespace {

/// The elastic program of all rules, and what its surpluses come to.
class Elastic {
 public:
  Elastic(const Model& model, const solver::SearchOptions& options)
      : model_(model), options_(options), surplus_(make_elastic(model_)) {
    std::fill(model_.cost.begin(), model_.cost.end(), 0.0);
  }

  /// The least change when each surplus weighs what it does at blend `x`. At a `total` of the
  /// product the blend must have it.
  [[nodiscard]] solver::SearchResult solve(const std::vector<double>& x,
                                           std::optional<double> total = {}) {
    for (const auto& s : surplus_)
      model_.cost[static_cast<std::size_t>(s.column)] =
          std::max(user_units(model_.rules[s.rule], x) / size_of(s), 1e-9);
    if (model_.total_column >= 0) {
      const auto column = static_cast<std::size_t>(model_.total_column);
      model_.column_lower[column] = total.value_or(0.0);
      model_.column_upper[column] = total.value_or(infinity);
    }
    return solver::search(model_, options_);
  }

  /// The sum of relative changes that `x` stands for; infinite where no limits let it in.
  [[nodiscard]] double change(const std::vector<double>& x) const {
    double sum = 0;
    for (const auto& s : surplus_) {
      if (is_vain(s, x)) return infinity;
      sum +=
          x[static_cast<std::size_t>(s.column)] * user_units(model_.rules[s.rule], x) / size_of(s);
    }
    return sum;
  }

  /// Takes away each surplus that `x` has and that no limit can give: of a ratio to something that
  /// is not in `x`. Returns: whether there was any.
  bool forbid_vain(const std::vector<double>& x) {
    bool any = false;
    for (const auto& s : surplus_) {
      if (!is_vain(s, x)) continue;
      model_.column_upper[static_cast<std::size_t>(s.column)] = 0;
      any = true;
    }
    return any;
  }

  [[nodiscard]] std::vector<Relaxation> changes(const std::vector<double>& x) const {
    std::vector<Relaxation> moved;
    for (const auto& s : surplus_) {
      const auto& rule = model_.rules[s.rule];
      const double change = x[static_cast<std::size_t>(s.column)] * user_units(rule, x);
      if (change <= 1e-8 * std::max(std::fabs(rule.limit), 1e-6)) continue;
      double limit = rule.limit - s.sign * change;
      if (std::fabs(limit) <= 1e-9 * std::fabs(rule.limit)) limit = 0;  // all of it
      const bool equality = rule.side == RuleSide::exactly || rule.partner >= 0;
      moved.push_back({s.rule, equality ? limit : rounded_outward(limit, s.sign < 0)});
    }
    return moved;
  }

  [[nodiscard]] const Model& model() const { return model_; }
  [[nodiscard]] bool drifts() const {
    return std::any_of(model_.rules.begin(), model_.rules.end(),
                       [](const model::Rule& rule) { return rule.active && !rule.drift.empty(); });
  }

 private:
  [[nodiscard]] bool is_vain(const Surplus& s, const std::vector<double>& x) const {
    return x[static_cast<std::size_t>(s.column)] > 0 && user_units(model_.rules[s.rule], x) == 0;
  }
  [[nodiscard]] double size_of(const Surplus& s) const {
    const double limit = model_.rules[s.rule].limit;
    return limit == 0 ? 1.0 : std::fabs(limit);
  }

  Model model_;
  const solver::SearchOptions& options_;
  std::vector<Surplus> surplus_;
};

/// Looks along the total for less than `best` changes: first in steps, then between the neighbours
/// of the best of them. At one total the weights of all limits per product are right.
void improve_along_total(Elastic& elastic, std::vector<double>& best) {
  const auto column = static_cast<std::size_t>(elastic.model().total_column);
  double least = elastic.change(best);
  double at = best[column];
  const auto try_total = [&](double total) {
    auto x = best;
    x[column] = total;
    const auto found = elastic.solve(x, total);
    if (found.status != SearchStatus::optimal) return infinity;
    const double change = elastic.change(found.x);
    if (change < least * (1 - 1e-9)) {
      least = change;
      at = total;
      best = found.x;
    }
    return change;
  };
  const double start = at;
  double step = std::pow(2.0, 0.25);
  for (int k = 1; k <= 8; ++k) {
    try_total(start * std::pow(step, k));
    try_total(start / std::pow(step, k));
  }
  for (int round = 0; round < 24; ++round) {
    const double before = least;
    const double centre = at;
    try_total(centre * step);
    try_total(centre / step);
    if (least >= before) step = std::sqrt(step);
  }
}

}  // namespace

NearestLimits nearest_limits(const Scenario& scenario, const Model& model,
                             const solver::SearchOptions& options) {
  Elastic elastic(model, options);
  // A first guess of the blend, for weights that depend on it: everything in equal parts.
  std::vector<double> x(static_cast<std::size_t>(elastic.model().columns), 1.0);
  const double guess = model.basis == Basis::per_tonne ? 1000.0 : 300.0;
  for (std::size_t j = 0; j < model.material_of.size(); ++j)
    x[j] = guess / std::max<double>(1, static_cast<double>(scenario.materials().size()));
  if (model.total_column >= 0) x[static_cast<std::size_t>(model.total_column)] = guess;
  double last = infinity;
  std::vector<double> best;
  bool settled = true;
  bool forbidden = false;
  for (int round = 0; round < 12; ++round) {
    const auto found = elastic.solve(x);
    if (found.status == SearchStatus::infeasible && best.empty() && !forbidden)
      return {Known<std::vector<Relaxation>>::none(), false};
    settled = found.status == SearchStatus::optimal;
    if (!settled) break;
    if (elastic.forbid_vain(found.x)) {
      forbidden = true;
      continue;
    }
    const double change = elastic.change(found.x);
    if (change >= last * (1 - 1e-9)) break;
    last = change;
    best = found.x;
    x = found.x;
  }
  if (best.empty()) return {};
  if (elastic.drifts() && model.total_column >= 0) improve_along_total(elastic, best);
  return {elastic.changes(best), settled && !elastic.drifts()};
}

}  // namespace leastwise::insight
