#include <algorithm>
#include <cmath>
#include <utility>

#include "insight/answer.hpp"
#include "insight/interval.hpp"
#include "insight/shadow_price.hpp"
#include "solver/certificate.hpp"

namespace leastwise::insight {
namespace {

/// A price that moves the cost by less than this share, for the whole limit, is rounding.
bool negligible(double price, double limit, double cost) {
  return std::fabs(price) * std::max(std::fabs(limit), 1e-3) <=
         1e-9 * std::max(std::fabs(cost), 1e-6);
}

BindingRule limit_rule(const Task& task, std::size_t r, double price,
                       const solver::SearchResult& solution) {
  const auto& rule = task.model.rules[r];
  BindingRule binding = binding_of(task.scenario, model::id_of(rule, task.scenario));
  binding.limit = rule.limit;
  binding.declared = model::declared_of(rule, task.scenario);
  binding.shadow_price = price + 0.0;
  binding.place = task.scenario.place_of(model::path_of(rule, task.scenario));
  if (!task.options.intervals || out_of_time(task)) return binding;
  const auto interval = price_interval(task.model, r, solution, task.search);
  binding.holds_from = interval.from;
  binding.holds_to = interval.to;
  binding.price_below = interval.price_below;
  binding.price_above = interval.price_above;
  binding.unique = interval.unique;
  return binding;
}

/// The price of one more percent of a minimum that holds a material in the blend.
double minimum_price(const Task& task, const model::MinimumIfUsed& minimum,
                     const solver::SearchResult& solution) {
  const auto j = static_cast<std::size_t>(minimum.column);
  if (minimum.row >= 0) {
    const double total = solution.x[static_cast<std::size_t>(task.model.total_column)];
    return solution.y[static_cast<std::size_t>(minimum.row)] * total / 100;
  }
  if (solution.leaf.lower[j] != minimum.kg || std::fabs(solution.x[j] - minimum.kg) > 1e-6)
    return 0;
  return solver::reduced_costs(solution.leaf, solution.y)[j] * 10;
}

void add_minima(const Task& task, const solver::SearchResult& solution,
                std::vector<BindingRule>& list) {
  for (std::size_t k = 0; k < task.model.minima.size(); ++k) {
    const auto& minimum = task.model.minima[k];
    const double price = minimum_price(task, minimum, solution);
    if (negligible(price, minimum.percent, solution.cost)) continue;
    BindingRule binding = binding_of(task.scenario, model::id_of(minimum, task.scenario));
    binding.limit = minimum.percent;
    binding.shadow_price = price;
    binding.place = task.scenario.place_of(model::path_of(minimum, task.scenario));
    if (task.options.intervals && !out_of_time(task)) {
      const auto interval = minimum_interval(task.model, k, price, task.search);
      binding.holds_from = interval.from;
      binding.holds_to = interval.to;
      binding.price_below = interval.price_below;
      binding.price_above = interval.price_above;
      binding.unique = interval.unique;
    }
    list.push_back(std::move(binding));
  }
}

/// What one bin more would save, found by solving with it.
void add_bins(const Task& task, const solver::SearchResult& solution,
              std::vector<BindingRule>& list) {
  if (!task.model.bins || !task.options.intervals || out_of_time(task)) return;
  int in_use = 0;
  for (std::size_t j = 0; j < task.model.is_granule.size(); ++j)
    if (task.model.is_granule[j] && solution.x[j] > 0) ++in_use;
  if (in_use < *task.model.bins) return;
  auto roomier = task.model;
  ++*roomier.bins;
  const auto found = solver::search(roomier, task.search);
  if (found.status != solver::SearchStatus::optimal) return;
  const double change = found.cost - solution.cost;
  if (negligible(change, 1, solution.cost)) return;
  BindingRule binding = binding_of(task.scenario, {.kind = RuleKind::bins});
  binding.limit = *task.model.bins;
  binding.shadow_price = change;
  binding.place = task.scenario.place_of("blend.bins");
  list.push_back(std::move(binding));
}

}  // namespace

BindingRule binding_of(const Scenario& scenario, RuleId id) {
  BindingRule binding;
  binding.rule = to_string(id);
  binding.price_unit.money = scenario.currency().empty() ? "money" : scenario.currency();
  binding.price_unit.money += scenario.basis() == Basis::per_hectare ? "/ha" : "/t";
  binding.price_unit.per = limit_unit(id.kind);
  binding.unit = to_string(binding.price_unit);
  binding.id = std::move(id);
  return binding;
}

bool out_of_time(const Task& task) {
  if (task.search.stop.stop_requested()) return true;
  return task.search.deadline && std::chrono::steady_clock::now() >= *task.search.deadline;
}

std::vector<BindingRule> binding_rules(const Task& task, const solver::SearchResult& solution) {
  std::vector<BindingRule> list;
  for (std::size_t r = 0; r < task.model.rules.size(); ++r) {
    if (task.model.rules[r].partner >= 0 && task.model.rules[r].partner < static_cast<int>(r))
      continue;                                                   // its partner speaks for both
    if (task.model.rules[r].kind == RuleKind::unasked) continue;  // no room of it is for sale
    const double price = shadow_price(task.model, r, solution);
    if (negligible(price, task.model.rules[r].limit, solution.cost)) continue;
    list.push_back(limit_rule(task, r, price, solution));
  }
  add_minima(task, solution, list);
  add_bins(task, solution, list);
  return list;
}

}  // namespace leastwise::insight
