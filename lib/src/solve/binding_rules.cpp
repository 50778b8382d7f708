#include <algorithm>
#include <chrono>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "solve/answer.hpp"
#include "solve/index.hpp"
#include "solve/row_entries.hpp"
#include "solve/sensitivity/entry_price.hpp"
#include "solve/sensitivity/interval.hpp"
#include "solve/shadow_price.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

/// A price that moves the cost by less than this share, for the whole limit, is rounding.
bool negligible(double price, double limit, double cost) {
  return std::fabs(price) * std::max(std::fabs(limit), 1e-3) <=
         1e-9 * std::max(std::fabs(cost), 1e-6);
}

/// Whether a rule that this basis gives no price costs something on one side of its limit: a price,
/// or no blend at all.
bool matters(const PriceInterval& interval, double limit, double cost) {
  const auto one = [&](const Known<double>& price) {
    return price.is_none() || (price && !negligible(*price, limit, cost));
  };
  return one(interval.price_below) || one(interval.price_above);
}

/// Whether the blend meets the limit of rule `r` exactly.
bool is_met_exactly(const model::Model& model, std::size_t r,
                    const solver::SearchResult& solution) {
  const auto& rule = model.rules[r];
  if (!rule.active) return false;
  const double bound = rule.rhs_derivative == 0 ? 0.0 : rule.limit * rule.rhs_derivative;
  double activity = 0;
  double size = std::fabs(bound);
  const auto add = [&](double amount) {
    activity += amount;
    size = std::max(size, std::fabs(amount));
  };
  if (rule.row < 0)
    add(solution.x[index(rule.column)]);
  else
    for_each_entry(solution.leaf, rule.row,
                   [&](int j, double a) { add(a * solution.x[index(j)]); });
  return std::fabs(activity - bound) <= 1e-9 * size;
}

/// The price of one more of a minimum that holds a material in the blend.
double minimum_price(const Task& task, const model::MinimumIfUsed& minimum,
                     const solver::SearchResult& solution) {
  const auto j = index(minimum.column);
  if (minimum.row >= 0) {
    const double total = solution.x[index(task.model.total_column)];
    return solution.y[index(minimum.row)] * total / 100;
  }
  if (solution.leaf.lower[j] != minimum.kg || std::fabs(solution.x[j] - minimum.kg) > 1e-6)
    return 0;
  return solver::reduced_costs(solution.leaf, solution.y)[j] * minimum.kg_rate;
}

/// Lists the rules that set the price of one solution.
class BindingRules {
 public:
  BindingRules(const Task& task, const solver::SearchResult& solution, Blend& blend)
      : task_(task), solution_(solution), blend_(blend), on_a_kink_(is_degenerate(solution)) {
    blend_.binding_complete = true;
  }

  void add_limits();
  void add_minima();
  void add_bins();

 private:
  [[nodiscard]] bool may_ask() const { return task_.options.intervals && !out_of_time(task_); }
  [[nodiscard]] bool is_met(const model::Rule& rule, std::size_t r) const {
    return is_met_exactly(task_.model, r, solution_) ||
           (rule.paired_rule >= 0 &&
            is_met_exactly(task_.model, index(rule.paired_rule), solution_));
  }
  /// Adds `binding` when it has a price, or when the interval that `ask` finds has one.
  template <class Ask>
  void add(BindingRule binding, Ask ask);

  const Task& task_;
  const solver::SearchResult& solution_;
  Blend& blend_;
  std::optional<PriceIntervals> intervals_{};  ///< once an interval is asked for
  bool on_a_kink_;  ///< a rule without a price in this basis may have one on one side
};

template <class Ask>
void BindingRules::add(BindingRule binding, Ask ask) {
  const PriceInterval interval = may_ask() ? ask() : PriceInterval{};
  if (negligible(binding.shadow_price, binding.limit, solution_.cost)) {
    if (!interval.unique) blend_.binding_complete = false;
    if (!matters(interval, binding.limit, solution_.cost)) return;
  }
  binding.holds_from = interval.from;
  binding.holds_to = interval.to;
  binding.price_below = interval.price_below;
  binding.price_above = interval.price_above;
  binding.unique = interval.unique;
  blend_.binding.push_back(std::move(binding));
}

void BindingRules::add_limits() {
  const auto& model = task_.model;
  for (std::size_t r = 0; r < model.rules.size(); ++r) {
    const auto& rule = model.rules[r];
    if (rule.paired_rule >= 0 && rule.paired_rule < static_cast<int>(r))
      continue;                                    // its partner speaks for both
    if (rule.kind == RuleKind::unasked) continue;  // no room of it is for sale
    const double price = shadow_price(model, r, solution_);
    if (negligible(price, rule.limit, solution_.cost) && !(on_a_kink_ && is_met(rule, r))) continue;
    const auto origin = model::origin_of(rule, task_.scenario);
    BindingRule binding = binding_of(task_.scenario, origin);
    binding.limit = rule.limit;
    binding.declared = model::declared_of(rule, task_.scenario);
    binding.shadow_price = price + 0.0;
    add(std::move(binding), [&] {
      if (!intervals_) intervals_.emplace(task_.model, solution_, task_.search);
      return intervals_->of(r, price);
    });
  }
}

void BindingRules::add_minima() {
  for (std::size_t k = 0; k < task_.model.minima.size(); ++k) {
    const auto& minimum = task_.model.minima[k];
    const double price = minimum_price(task_, minimum, solution_);
    if (minimum.of == model::MinimumIfUsed::Of::price_tier) continue;  // no rule
    if (negligible(price, minimum.limit, solution_.cost)) continue;
    const auto origin = model::origin_of(minimum, task_.scenario);
    BindingRule binding = binding_of(task_.scenario, origin);
    binding.limit = minimum.limit;
    binding.shadow_price = price;
    add(std::move(binding), [&] { return minimum_interval(task_.model, k, price, task_.search); });
  }
}

/// What one bin more would save, found by solving with it.
void BindingRules::add_bins() {
  if (!task_.model.bins) return;
  int in_use = 0;
  for (std::size_t j = 0; j < task_.model.is_granule.size(); ++j)
    if (task_.model.is_granule[j] && solution_.x[j] > 0) ++in_use;
  if (in_use < *task_.model.bins) return;
  auto roomier = task_.model;
  ++*roomier.bins;
  const auto found = may_ask() ? solver::search(roomier, task_.search) : solver::SearchResult{};
  if (found.status != solver::SearchStatus::optimal) {
    blend_.binding_complete = false;
    return;
  }
  const double change = found.cost - solution_.cost;
  if (negligible(change, 1, solution_.cost)) return;
  BindingRule binding = binding_of(
      task_.scenario, rules::origin_of(task_.scenario, RuleKind::bins, RuleSide::max, 0));
  binding.limit = *task_.model.bins;
  binding.shadow_price = change;
  binding.price_above = change;
  blend_.binding.push_back(std::move(binding));
}

}  // namespace

BindingRule binding_of(const Scenario& scenario, const rules::Origin& origin) {
  BindingRule binding;
  binding.id = origin.id;
  binding.rule = to_string(binding.id);
  binding.place = scenario.place_of(origin.path);
  binding.price_unit.money = scenario.currency().empty() ? "money" : scenario.currency();
  binding.price_unit.money += scenario.basis() == Basis::per_hectare ? "/ha" : "/t";
  binding.price_unit.per = limit_unit(binding.id);
  binding.unit = to_string(binding.price_unit);
  return binding;
}

bool out_of_time(const Task& task) {
  if (task.search.stop.stop_requested()) return true;
  return task.search.deadline && std::chrono::steady_clock::now() >= *task.search.deadline;
}

void add_binding_rules(const Task& task, const solver::SearchResult& solution, Blend& blend) {
  BindingRules rules(task, solution, blend);
  rules.add_limits();
  rules.add_minima();
  rules.add_bins();
}

}  // namespace leastwise::solve
