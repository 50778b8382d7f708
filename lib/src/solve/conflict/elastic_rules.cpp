#include "solve/conflict/elastic_rules.hpp"

namespace leastwise::insight {

using model::Model;

std::vector<Surplus> make_elastic(Model& elastic) {
  std::vector<Surplus> surplus;
  std::vector<std::vector<model::Entry>> rows(static_cast<std::size_t>(elastic.rows));
  for (std::size_t i = 0; i < rows.size(); ++i)
    rows[i].assign(elastic.entries.begin() + elastic.row_start[i],
                   elastic.entries.begin() + elastic.row_start[i + 1]);
  for (auto& rule : elastic.rules) {
    if (rule.row >= 0) continue;
    rule.row = static_cast<int>(rows.size());
    rows.push_back({{rule.column, 1.0}});
    rule.column = -1;
  }
  const auto add = [&](std::size_t r, double sign) {
    surplus.push_back({r, elastic.columns, sign});
    rows[static_cast<std::size_t>(elastic.rules[r].row)].push_back({elastic.columns, sign});
    if (elastic.rules[r].partner >= 0) {
      const auto& partner = elastic.rules[static_cast<std::size_t>(elastic.rules[r].partner)];
      rows[static_cast<std::size_t>(partner.row)].push_back({elastic.columns, sign});
    }
    ++elastic.columns;
    elastic.family_of.push_back(-1);
    elastic.is_granule.push_back(0);
    elastic.cost.push_back(0);
  };
  for (std::size_t r = 0; r < elastic.rules.size(); ++r) {
    if (!elastic.rules[r].active || rules::is_guard(elastic.rules[r].kind)) continue;
    const int partner = elastic.rules[r].partner;
    if (partner >= 0 && partner < static_cast<int>(r)) continue;  // has its surplus already
    if (partner >= 0 || elastic.rules[r].side != RuleSide::max) add(r, 1);
    if (partner >= 0 || elastic.rules[r].side != RuleSide::min) add(r, -1);
  }
  elastic.rows = static_cast<int>(rows.size());
  elastic.entries.clear();
  elastic.row_start.assign(1, 0);
  for (const auto& row : rows) {
    elastic.entries.insert(elastic.entries.end(), row.begin(), row.end());
    elastic.row_start.push_back(static_cast<int>(elastic.entries.size()));
  }
  elastic.row_lower.resize(rows.size());
  elastic.row_upper.resize(rows.size());
  elastic.column_lower.resize(static_cast<std::size_t>(elastic.columns));
  elastic.column_upper.resize(static_cast<std::size_t>(elastic.columns));
  model::refresh_bounds(elastic);
  return surplus;
}

double user_units(const model::Rule& rule, const std::vector<double>& x) {
  if (rule.drift.empty()) return rule.rhs_rate == 0 ? 0 : 1 / rule.rhs_rate;
  double rate = 0;
  for (const auto& drift : rule.drift)
    rate -= drift.value * x[static_cast<std::size_t>(drift.column)];
  return rate > 0 ? 1 / rate : 0;
}

}  // namespace leastwise::insight
