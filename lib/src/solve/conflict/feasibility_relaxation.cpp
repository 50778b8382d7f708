#include "solve/conflict/feasibility_relaxation.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solve/conflict/elastic_rules.hpp"
#include "solve/conflict/least_change.hpp"

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

  /// The least change when each surplus weighs what it does at blend `x`.
  [[nodiscard]] solver::SearchResult solve(const std::vector<double>& x) {
    for (const auto& s : surplus_) {
      const auto& rule = model_.rules[s.rule];
      model_.cost[static_cast<std::size_t>(s.column)] =
          std::max(user_units(rule, x) / size_of(rule), 1e-9);
    }
    return solver::search(model_, options_);
  }

  [[nodiscard]] double change(const std::vector<double>& x) const {
    return relative_change(model_, surplus_, x);
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

  /// The least change of all, from blend `x` on.
  [[nodiscard]] LeastChange improved(std::vector<double> x) const {
    return least_change(model_, surplus_, std::move(x), options_);
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

  Model model_;
  const solver::SearchOptions& options_;
  std::vector<Surplus> surplus_;
};

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
  if (!elastic.drifts()) return {elastic.changes(best), settled};
  const auto found = elastic.improved(std::move(best));
  return {elastic.changes(found.x), found.proved};
}

}  // namespace leastwise::solve
