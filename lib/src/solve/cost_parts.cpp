#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "solve/answer.hpp"
#include "solve/index.hpp"
#include "solve/shadow_price.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

double activity_of(const solver::LinearProgram& data, int row, const std::vector<double>& x) {
  double activity = 0;
  for (int e = data.row_start[index(row)]; e < data.row_start[index(row) + 1]; ++e) {
    const auto& entry = data.entries[index(e)];
    activity += entry.value * x[index(entry.column)];
  }
  return activity;
}

/// Whether the column is what is bought at one price of several.
bool is_bought(const model::Model& model, int column) {
  return std::ranges::any_of(model.column_limits,
                             [&](const auto& limit) { return limit.column == column; }) ||
         std::ranges::any_of(model.minima, [&](const model::MinimumIfUsed& minimum) {
           return minimum.column == column && minimum.of == model::MinimumIfUsed::Of::price_tier;
         });
}

}  // namespace

NamedRule rule_of_row(const Task& task, const solver::SearchResult& solution, int row) {
  const auto& model = task.model;
  for (std::size_t r = 0; r < model.rules.size(); ++r)
    if (model.rules[r].active && model.rules[r].row == row && is_binding(model, r, solution)) {
      const RuleId id = model::origin_of(model.rules[r], task.scenario).id;
      return {to_string(id), id};
    }
  for (const auto& minimum : model.minima)
    if (minimum.row == row) {
      const RuleId id = model::origin_of(minimum, task.scenario).id;
      return {to_string(id), id};
    }
  for (int e = model.row_start[index(row)]; e < model.row_start[index(row) + 1]; ++e)
    if (is_bought(model, model.entries[index(e)].column)) return {"price tiers", std::nullopt};
  return {"mass", std::nullopt};
}

NamedRule rule_of_bound(const Task& task, const solver::SearchResult& solution, int column) {
  const auto& model = task.model;
  for (std::size_t r = 0; r < model.rules.size(); ++r)
    if (model.rules[r].active && model.rules[r].column == column &&
        is_binding(model, r, solution)) {
      const RuleId id = model::origin_of(model.rules[r], task.scenario).id;
      return {to_string(id), id};
    }
  for (const auto& minimum : model.minima)
    if (minimum.column == column && minimum.of != model::MinimumIfUsed::Of::price_tier) {
      const RuleId id = model::origin_of(minimum, task.scenario).id;
      return {to_string(id), id};
    }
  return {is_bought(model, column) ? "price tiers" : "mass", std::nullopt};
}

void add_cost_parts(const Task& task, const solver::SearchResult& solution, Blend& blend) {
  const auto& data = solution.leaf;
  const double size = std::max(std::fabs(solution.cost), 1e-6);
  double sum = 0;
  const auto add = [&](NamedRule rule, double kg, double price) {
    const double cost = kg * price;
    sum += cost;
    if (std::fabs(cost) <= 1e-9 * size) return;
    const auto known = std::ranges::find(blend.cost_parts, rule.name, &CostPart::rule);
    if (known == blend.cost_parts.end())
      blend.cost_parts.push_back({std::move(rule.name), std::move(rule.id), kg, price, cost});
    else
      known->cost += cost;
  };
  for (int i = 0; i < data.rows; ++i)
    if (solution.y[index(i)] != 0)
      add(rule_of_row(task, solution, i), activity_of(data, i, solution.x), solution.y[index(i)]);
  const auto reduced = solver::reduced_costs(data, solution.y);
  for (std::size_t j = 0; j < solution.x.size(); ++j)
    if (solution.x[j] > 0 && std::fabs(reduced[j] * solution.x[j]) > 1e-9 * size)
      add(rule_of_bound(task, solution, static_cast<int>(j)), solution.x[j], reduced[j]);
    else
      sum += reduced[j] * solution.x[j];
  blend.cost_parts_add_up = std::fabs(sum - solution.cost) <= 1e-9 * std::max(1.0, size);
  std::ranges::stable_sort(blend.cost_parts, [](const CostPart& a, const CostPart& b) {
    return std::fabs(a.cost) > std::fabs(b.cost);
  });
}

}  // namespace leastwise::solve
