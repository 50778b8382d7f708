#include "solve/conflict/elastic_rules.hpp"

#include <cmath>

#include "model/model_edit.hpp"

namespace leastwise::solve {

using model::Model;

std::vector<Surplus> make_elastic(Model& elastic) {
  std::vector<Surplus> surplus;
  {
    model::ModelEdit edit(elastic);
    for (auto& rule : elastic.rules) {
      if (rule.row >= 0) continue;
      rule.row = edit.add_row({{rule.column, 1.0}}, -model::infinity, model::infinity);
      rule.column = -1;
    }
    const auto add = [&](std::size_t r, double sign) {
      const auto& rule = elastic.rules[r];
      surplus.push_back({r, edit.add_column(0), sign});
      const model::Entry entry{surplus.back().column, sign};
      edit.row(rule.row).push_back(entry);
      if (rule.paired_rule >= 0)
        edit.row(elastic.rules[static_cast<std::size_t>(rule.paired_rule)].row).push_back(entry);
    };
    for (std::size_t r = 0; r < elastic.rules.size(); ++r) {
      if (!elastic.rules[r].active || rules::is_guard(elastic.rules[r].kind)) continue;
      const int partner = elastic.rules[r].paired_rule;
      if (partner >= 0 && partner < static_cast<int>(r)) continue;  // has its surplus already
      if (partner >= 0 || elastic.rules[r].side != RuleSide::max) add(r, 1);
      if (partner >= 0 || elastic.rules[r].side != RuleSide::min) add(r, -1);
    }
  }
  model::refresh_bounds(elastic);
  return surplus;
}

double user_units(const model::Rule& rule, const std::vector<double>& x) {
  if (rule.coefficient_derivatives.empty())
    return rule.rhs_derivative == 0 ? 0 : 1 / rule.rhs_derivative;
  double rate = 0;
  for (const auto& drift : rule.coefficient_derivatives)
    rate -= drift.value * x[static_cast<std::size_t>(drift.column)];
  return rate > 0 ? 1 / rate : 0;
}

double size_of(const model::Rule& rule) { return rule.limit == 0 ? 1.0 : std::fabs(rule.limit); }

double relative_change(const Model& elastic, const std::vector<Surplus>& surplus,
                       const std::vector<double>& x) {
  double sum = 0;
  for (const auto& s : surplus) {
    const double amount = x[static_cast<std::size_t>(s.column)];
    if (amount <= 0) continue;
    const auto& rule = elastic.rules[s.rule];
    const double units = user_units(rule, x);
    if (units == 0) return model::infinity;
    sum += amount * units / size_of(rule);
  }
  return sum;
}

}  // namespace leastwise::solve
