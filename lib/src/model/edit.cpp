#include "model/model.hpp"

#include <algorithm>

namespace leastwise::model {

void refresh_bounds(Model& model) {
  std::fill(model.row_lower.begin(), model.row_lower.end(), -infinity);
  std::fill(model.row_upper.begin(), model.row_upper.end(), infinity);
  std::fill(model.column_lower.begin(), model.column_lower.end(), 0.0);
  std::fill(model.column_upper.begin(), model.column_upper.end(), infinity);
  if (model.total_row >= 0) {
    const double total = model.basis == Basis::per_tonne ? 1000 : 0;
    model.row_lower[static_cast<std::size_t>(model.total_row)] = total;
    model.row_upper[static_cast<std::size_t>(model.total_row)] = total;
  }
  for (const auto& rule : model.rules) {
    if (!rule.active) continue;
    const bool on_row = rule.row >= 0;
    const auto k = static_cast<std::size_t>(on_row ? rule.row : rule.column);
    auto& lower = on_row ? model.row_lower[k] : model.column_lower[k];
    auto& upper = on_row ? model.row_upper[k] : model.column_upper[k];
    const double bound = rule.rhs_rate == 0 ? 0.0 : rule.limit * rule.rhs_rate;
    if (rule.side != Side::max) lower = std::max(lower, bound);
    if (rule.side != Side::min) upper = std::min(upper, bound);
  }
}

void set_limit(Model& model, std::size_t r, double limit) {
  Rule& rule = model.rules[r];
  const double change = limit - rule.limit;
  for (const auto& drift : rule.drift) {
    const auto first = model.entries.begin() + model.row_start[static_cast<std::size_t>(rule.row)];
    const auto last =
        model.entries.begin() + model.row_start[static_cast<std::size_t>(rule.row) + 1];
    const auto entry =
        std::find_if(first, last, [&](const Entry& e) { return e.column == drift.column; });
    if (entry != last) entry->value += change * drift.value;
  }
  rule.limit = limit;
  refresh_bounds(model);
}

double total_mass(const Scenario& scenario, const Model& model, const std::vector<double>& x) {
  double total = 0;
  for (std::size_t j = 0; j < model.material_of.size(); ++j)
    if (model.material_of[j] >= 0)
      total += scenario.mass_factor(static_cast<std::size_t>(model.material_of[j])) * x[j];
  return total;
}

}  // namespace leastwise::model
