#include "solve/conflict/feasibility_relaxation.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "solve/conflict/elastic_rules.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;
using model::Model;
using solver::SearchStatus;

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
      const bool equality = rule.side == RuleSide::exactly || rule.paired_rule >= 0;
      moved.push_back({s.rule, equality ? limit : rounded_outward(limit, s.sign < 0)});
    }
    return moved;
  }

  [[nodiscard]] const Model& model() const { return model_; }
  [[nodiscard]] bool drifts() const {
    return std::any_of(model_.rules.begin(), model_.rules.end(), [](const model::Rule& rule) {
      return rule.active && !rule.coefficient_derivatives.empty();
    });
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

FeasibilityRelaxation relax_to_feasible(const Scenario& scenario, const Model& model,
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

}  // namespace leastwise::solve
