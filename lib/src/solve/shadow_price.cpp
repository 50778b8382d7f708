#include "solve/shadow_price.hpp"

#include "solve/index.hpp"
#include "solve/row_entries.hpp"

namespace leastwise::solve {
namespace {

using solver::BasisStatus;

/// The price of one rule without its partner.
double own_price(const model::Model& model, std::size_t r, const solver::SearchResult& solution) {
  const auto& rule = model.rules[r];
  if (!rule.active || !is_binding(model, r, solution)) return 0;
  if (rule.row >= 0) {
    double rate = rule.rhs_derivative;
    for (const auto& drift : rule.coefficient_derivatives)
      rate -= drift.value * solution.x[index(drift.column)];
    return solution.y[index(rule.row)] * rate;
  }
  double reduced = solution.leaf.cost[index(rule.column)];
  for (int i = 0; i < solution.leaf.rows; ++i) {
    if (solution.y[index(i)] == 0) continue;
    for_each_entry(solution.leaf, i, [&](int j, double a) {
      if (j == rule.column) reduced -= a * solution.y[index(i)];
    });
  }
  return reduced * rule.rhs_derivative;
}

}  // namespace

double shadow_price(const model::Model& model, std::size_t r,
                    const solver::SearchResult& solution) {
  const int partner = model.rules[r].paired_rule;
  return own_price(model, r, solution) +
         (partner < 0 ? 0 : own_price(model, index(partner), solution));
}

bool is_binding(const model::Model& model, std::size_t r, const solver::SearchResult& solution) {
  const auto& rule = model.rules[r];
  const bool on_row = rule.row >= 0;
  const auto k = index(on_row ? rule.row : rule.column);
  const auto standing = on_row ? solution.row_standing[k] : solution.column_standing[k];
  if (standing == BasisStatus::basic || standing == BasisStatus::free) return false;
  const double lower = on_row ? solution.leaf.row_lower[k] : solution.leaf.lower[k];
  const double upper = on_row ? solution.leaf.row_upper[k] : solution.leaf.upper[k];
  const double bound = rule.rhs_derivative == 0 ? 0.0 : rule.limit * rule.rhs_derivative;
  if (rule.side == RuleSide::exactly) return lower == upper;
  if (lower == upper)  // a min and a max that meet: the dual's sign says which one holds
    return bound == lower && (!on_row || (rule.side == RuleSide::min) == (solution.y[k] >= 0));
  if (rule.side == RuleSide::min) return standing == BasisStatus::at_lower && bound == lower;
  return standing == BasisStatus::at_upper && bound == upper;
}

}  // namespace leastwise::solve
