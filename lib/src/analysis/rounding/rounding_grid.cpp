#include "analysis/rounding/rounding_grid.hpp"

#include <algorithm>
#include <cmath>

#include "scenario/units.hpp"
#include "solve/index.hpp"
#include "solver/certificate.hpp"

namespace leastwise::insight {
namespace {

using model::Entry;
using model::infinity;
using model::Model;

/// The rows of a model, each on its own, so that they can be changed.
std::vector<std::vector<Entry>> rows_of(const Model& model) {
  std::vector<std::vector<Entry>> rows;
  rows.reserve(index(model.rows));
  for (int i = 0; i < model.rows; ++i)
    rows.emplace_back(model.entries.begin() + model.row_start[index(i)],
                      model.entries.begin() + model.row_start[index(i) + 1]);
  return rows;
}

void set_rows(Model& model, const std::vector<std::vector<Entry>>& rows) {
  model.rows = static_cast<int>(rows.size());
  model.row_start.assign(1, 0);
  model.entries.clear();
  for (const auto& row : rows) {
    model.entries.insert(model.entries.end(), row.begin(), row.end());
    model.row_start.push_back(static_cast<int>(model.entries.size()));
  }
}

/// a - b, and nothing where only rounding is left of it: a powder that costs nothing must not seem
/// to bring in money with every kg.
double less(double a, double b) {
  const double rest = a - b;
  return std::fabs(rest) <= 1e-12 * std::fabs(b) ? 0 : rest;
}

int add_column(Model& model, double cost) {
  model.material_of.push_back(-1);
  model.is_granule.push_back(0);
  model.family_of.push_back(-1);
  model.column_lower.push_back(0);
  model.column_upper.push_back(infinity);
  model.cost.push_back(cost);
  return model.columns++;
}

double drift_of(const model::Rule& rule, const std::vector<double>& x) {
  double sum = 0;
  for (const auto& d : rule.drift) sum += d.value * x[index(d.column)];
  return sum;
}

/// What ties the binder to the powders.
void add_binder_rows(GridModel& grid, const std::vector<int>& powders, double share,
                     std::vector<std::vector<Entry>>& rows) {
  const auto add = [&](std::vector<Entry> row, double per_powder, double lower, double upper) {
    for (const int j : powders) row.push_back({j, per_powder});
    rows.push_back(std::move(row));
    grid.model.row_lower.push_back(lower);
    grid.model.row_upper.push_back(upper);
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
  grid.binder_column = add_column(m, binder_cost);
  grid.least_binder_column = add_column(m, binder_cost);
  m.column_upper.back() = unit;
  grid.grid.insert(grid.grid.end(), {grid.binder_column, grid.least_binder_column});
  for (const int j : powders) m.cost[index(j)] = less(m.cost[index(j)], share * binder_cost);
  auto rows = rows_of(model);
  const auto weigh_binder = [&](int row) {
    for (auto& entry : rows[index(row)])
      if (std::find(powders.begin(), powders.end(), entry.column) != powders.end()) entry.value = 1;
    rows[index(row)].push_back({grid.binder_column, 1});
    rows[index(row)].push_back({grid.least_binder_column, 1});
  };
  if (m.total_row >= 0) weigh_binder(m.total_row);
  for (const auto& rule : m.rules)
    if (rule.kind == RuleKind::coating && rule.row >= 0) weigh_binder(rule.row);
  add_binder_rows(grid, powders, share, rows);
  set_rows(m, rows);
  return grid;
}

GridModel elastic_grid(const GridModel& grid, const std::vector<double>& x, double drift_price) {
  GridModel elastic = grid;
  auto& m = elastic.model;
  auto rows = rows_of(grid.model);
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
    auto row = rule.row >= 0 ? rows[index(rule.row)] : std::vector<Entry>{{rule.column, 1}};
    const double bound = rule.rhs_rate == 0 ? 0.0 : rule.limit * rule.rhs_rate;
    const double rate = rule.drift.empty() ? rule.rhs_rate : std::fabs(drift_of(rule, x));
    const double size = std::max(std::fabs(rule.limit), 1e-3) * (rate > 0 ? rate : 1);
    const auto surplus = [&](double sign) {
      row.push_back({add_column(m, drift_price), sign * size});
    };
    const bool needs_min = rule.side != RuleSide::max;
    const bool needs_max = rule.side != RuleSide::min;
    if (needs_min) surplus(1);
    if (needs_max) surplus(-1);
    rows.push_back(std::move(row));
    m.row_lower.push_back(needs_min ? bound : -infinity);
    m.row_upper.push_back(needs_max ? bound : infinity);
  }
  set_rows(m, rows);
  return elastic;
}

}  // namespace leastwise::insight
