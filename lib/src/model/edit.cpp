#include "model/model.hpp"

#include <algorithm>
#include <cmath>

#include "scenario/rule_terms.hpp"

namespace leastwise::model {

using rules::without_rounding;

namespace {

constexpr double last_bits = 1e-14;

/// Narrows the bounds of the rule's row or column to what it asks.
void hold(const Rule& rule, double& lower, double& upper) {
  const double bound = rule.rhs_derivative == 0 ? 0.0 : rule.limit * rule.rhs_derivative;
  if (rule.side != RuleSide::max) lower = std::max(lower, bound);
  if (rule.side != RuleSide::min) upper = std::min(upper, bound);
  // Two ways to say the same amount may differ in their last bit.
  if (lower > upper && lower <= upper + last_bits * std::fabs(upper)) lower = upper;
}

}  // namespace

void refresh_bounds(Model& model) {
  std::fill(model.row_lower.begin(), model.row_lower.end(), -infinity);
  std::fill(model.row_upper.begin(), model.row_upper.end(), infinity);
  std::fill(model.column_lower.begin(), model.column_lower.end(), 0.0);
  std::fill(model.column_upper.begin(), model.column_upper.end(), infinity);
  if (model.total_row >= 0) {
    model.row_lower[static_cast<std::size_t>(model.total_row)] = model.total_amount();
    model.row_upper[static_cast<std::size_t>(model.total_row)] = model.total_amount();
  }
  for (const auto& fixed : model.fixed_rows) {
    model.row_lower[static_cast<std::size_t>(fixed.row)] = fixed.value;
    model.row_upper[static_cast<std::size_t>(fixed.row)] = fixed.value;
  }
  for (const auto& limit : model.column_limits)
    model.column_upper[static_cast<std::size_t>(limit.column)] = limit.most;
  for (const auto& rule : model.rules) {
    if (!rule.active) continue;
    const bool on_row = rule.row >= 0;
    const auto k = static_cast<std::size_t>(on_row ? rule.row : rule.column);
    hold(rule, on_row ? model.row_lower[k] : model.column_lower[k],
         on_row ? model.row_upper[k] : model.column_upper[k]);
  }
}

std::pair<double, double> bounds_without(const Model& model, std::size_t r) {
  const Rule& own = model.rules[r];
  double lower = own.row >= 0 ? -infinity : 0;
  double upper = infinity;
  if (own.row >= 0 && own.row == model.total_row)
    lower = upper = model.basis == Basis::per_tonne ? 1000 : 0;
  for (std::size_t k = 0; k < model.rules.size(); ++k) {
    const Rule& rule = model.rules[k];
    if (!rule.active || k == r || static_cast<int>(k) == own.paired_rule) continue;
    if (rule.row == own.row && rule.column == own.column) hold(rule, lower, upper);
  }
  return {lower, upper};
}

bool bounds_cross(const Model& model) {
  for (std::size_t i = 0; i < model.row_lower.size(); ++i)
    if (model.row_lower[i] > model.row_upper[i]) return true;
  for (std::size_t j = 0; j < model.column_lower.size(); ++j)
    if (model.column_lower[j] > model.column_upper[j]) return true;
  return false;
}

namespace {

/// The entry of `row` in `column`; null when the row has none.
Entry* entry_at(Model& model, int row, int column) {
  const auto first = model.entries.begin() + model.row_start[static_cast<std::size_t>(row)];
  const auto last = model.entries.begin() + model.row_start[static_cast<std::size_t>(row) + 1];
  const auto found = std::find_if(first, last, [&](const Entry& e) { return e.column == column; });
  return found == last ? nullptr : &*found;
}

void move_one(Model& model, Rule& rule, double limit) {
  for (const auto& drift : rule.coefficient_derivatives)
    if (Entry* entry = entry_at(model, rule.row, drift.column)) {
      const double fixed = entry->value - rule.limit * drift.value;
      const double moving = limit * drift.value;
      entry->value = without_rounding(fixed + moving, std::fabs(fixed) + std::fabs(moving));
    }
  rule.limit = limit;
}

}  // namespace

void set_limit(Model& model, std::size_t r, double limit) {
  Rule& rule = model.rules[r];
  move_one(model, rule, limit);
  if (rule.paired_rule >= 0)
    move_one(model, model.rules[static_cast<std::size_t>(rule.paired_rule)], limit);
  refresh_bounds(model);
}

Model at_limit(Model model, std::size_t r, double limit) {
  set_limit(model, r, limit);
  return model;
}

void set_minimum(Model& model, std::size_t k, double limit) {
  MinimumIfUsed& minimum = model.minima[k];
  minimum.limit = limit;
  minimum.kg = limit * minimum.kg_rate;
  if (minimum.row >= 0)
    if (Entry* entry = entry_at(model, minimum.row, model.total_column))
      entry->value = -limit / 100;
}

double total_mass(const Scenario& scenario, const Model& model, const std::vector<double>& x) {
  double total = 0;
  for (std::size_t j = 0; j < model.material_of.size(); ++j)
    if (model.material_of[j] >= 0)
      total += scenario.mass_factor(static_cast<std::size_t>(model.material_of[j])) * x[j];
  return total;
}

}  // namespace leastwise::model
