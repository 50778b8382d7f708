#include "analysis/rounding/rounding_grid.hpp"

#include <algorithm>
#include <cmath>

#include "model/model_edit.hpp"
#include "scenario/units.hpp"
#include "solve/index.hpp"
#include "solver/certificate.hpp"

namespace leastwise::analysis {
namespace {

using solve::index;

using model::Entry;
using model::infinity;
using model::Model;

/// a - b, and nothing where only rounding is left of it: a powder that costs nothing must not seem
/// to bring in money with every kg.
double less(double a, double b) {
  const double rest = a - b;
  return std::fabs(rest) <= 1e-12 * std::fabs(b) ? 0 : rest;
}

double drift_of(const model::Rule& rule, const std::vector<double>& x) {
  double sum = 0;
  for (const auto& d : rule.coefficient_derivatives) sum += d.value * x[index(d.column)];
  return sum;
}

/// What ties the binder to the powders.
void add_binder_rows(GridModel& grid, const std::vector<int>& powders, double share,
                     model::ModelEdit& edit) {
  const auto add = [&](std::vector<Entry> row, double per_powder, double lower, double upper) {
    for (const int j : powders) row.push_back({j, per_powder});
    edit.add_row(std::move(row), lower, upper);
  };
  const int nearest = grid.binder_column;
  const int least = grid.least_binder_column;
  add({{nearest, 1}}, -share, -grid.unit / 2, grid.unit / 2);
  // No powder without binder. n steps are nearest to no share above n + 0.5, so above 1.5 n: in
  // whole steps this takes nothing else away.
  add({{nearest, 1.5}, {least, 1.5}}, -share, 0, infinity);
  // No binder without powder.
  add({{least, -1}}, 1, 0, infinity);
}

}  // namespace

GridModel grid_model(const Scenario& scenario, const Model& model, double unit) {
  GridModel grid{model, unit, -1, -1, {}};
  auto& m = grid.model;
  std::vector<int> powders;
  for (std::size_t j = 0; j < model.material_of.size(); ++j) {
    if (model.material_of[j] < 0) continue;
    grid.grid.push_back(static_cast<int>(j));
    if (!model.is_granule[j]) powders.push_back(static_cast<int>(j));
  }
  const double share = scenario.binder().percent_of_powder / 100;
  if (powders.empty() || share <= 0) return grid;
  const double binder_cost =
      (scenario.binder().price_per_t + scenario.blending_fee_per_t()) / kg_per_tonne;
  model::ModelEdit edit(m);
  grid.binder_column = edit.add_column(binder_cost);
  grid.least_binder_column = edit.add_column(binder_cost, unit);
  grid.grid.insert(grid.grid.end(), {grid.binder_column, grid.least_binder_column});
  for (const int j : powders) m.cost[index(j)] = less(m.cost[index(j)], share * binder_cost);
  const auto weigh_binder = [&](int row) {
    for (auto& entry : edit.row(row))
      if (std::find(powders.begin(), powders.end(), entry.column) != powders.end()) entry.value = 1;
    edit.row(row).push_back({grid.binder_column, 1});
    edit.row(row).push_back({grid.least_binder_column, 1});
  };
  if (m.total_row >= 0) weigh_binder(m.total_row);
  for (const auto& rule : m.rules)
    if (rule.kind == RuleKind::coating && rule.row >= 0) weigh_binder(rule.row);
  add_binder_rows(grid, powders, share, edit);
  return grid;
}

GridModel elastic_grid(const GridModel& grid, const std::vector<double>& x, double drift_price) {
  GridModel elastic = grid;
  auto& m = elastic.model;
  model::ModelEdit edit(m);
  // Rows of rules lose their bounds; each rule gets a row of its own with room to give way.
  for (const auto& rule : grid.model.rules) {
    if (!rule.active || rules::is_guard(rule.kind)) continue;
    if (rule.row >= 0) {
      m.row_lower[index(rule.row)] = -infinity;
      m.row_upper[index(rule.row)] = infinity;
    } else {
      m.column_lower[index(rule.column)] = 0;
      m.column_upper[index(rule.column)] = infinity;
    }
  }
  for (const auto& rule : grid.model.rules) {
    if (!rule.active) continue;
    if (rules::is_guard(rule.kind)) {
      if (rule.column >= 0) m.column_upper[index(rule.column)] = 0;
      continue;
    }
    auto row = rule.row >= 0 ? edit.row(rule.row) : std::vector<Entry>{{rule.column, 1}};
    const double bound = rule.rhs_derivative == 0 ? 0.0 : rule.limit * rule.rhs_derivative;
    const double rate =
        rule.coefficient_derivatives.empty() ? rule.rhs_derivative : std::fabs(drift_of(rule, x));
    const double size = std::max(std::fabs(rule.limit), 1e-3) * (rate > 0 ? rate : 1);
    const auto surplus = [&](double sign) {
      row.push_back({edit.add_column(drift_price), sign * size});
    };
    const bool needs_min = rule.side != RuleSide::max;
    const bool needs_max = rule.side != RuleSide::min;
    if (needs_min) surplus(1);
    if (needs_max) surplus(-1);
    edit.add_row(std::move(row), needs_min ? bound : -infinity, needs_max ? bound : infinity);
  }
  return elastic;
}

}  // namespace leastwise::analysis
