#include "proof/exact_program.hpp"

namespace leastwise::proof {

ExactProgram::ExactProgram(const Scenario& scenario, const model::Model& model)
    : rules_(exact_rows(scenario, model)) {
  scale_columns(exact_costs(scenario, model));
  for (const auto& rule : rules_) add_whole(rule);
  find_opposites();
}

/// The least factor for each column that leaves no fraction in it.
void ExactProgram::scale_columns(const std::vector<Rational>& costs) {
  auto& scale = whole_.column_scale;
  for (const auto& cost : costs) scale.push_back(denominator(cost));
  for (const auto& rule : rules_)
    for (const auto& [j, value] : rule.entries)
      scale[j] = lcm(scale[j], Integer(denominator(value)));
  for (std::size_t j = 0; j < costs.size(); ++j)
    whole_.cost.push_back(numerator(Rational(costs[j] * scale[j])));
}

void ExactProgram::add_whole(const ExactRow& rule) {
  exact::WholeRow row;
  const Integer times = denominator(rule.limit);
  row.limit = numerator(rule.limit);
  Integer common = abs(row.limit);
  for (const auto& [j, value] : rule.entries) {
    row.entries.emplace_back(j, numerator(Rational(value * column_scale(j) * times)));
    common = gcd(common, row.entries.back().second);
  }
  if (common > 1) {
    row.limit /= common;
    for (auto& [j, value] : row.entries) value /= common;
  }
  const Rational scale = common > 1 ? Rational(times, common) : Rational(times);
  row_scale_.push_back({scale, scale.convert_to<double>()});
  whole_.rows.push_back(std::move(row));
}

void ExactProgram::find_opposites() {
  for (std::size_t r = 0; r < size(); ++r) {
    opposite_.push_back(r);
    if (r == 0 || rules_[r].rule != rules_[r - 1].rule || row(r).limit != -row(r - 1).limit ||
        row(r).entries.size() != row(r - 1).entries.size() ||
        rules_[r].is_maximum == rules_[r - 1].is_maximum)
      continue;
    bool mirrored = row_scale(r).exactly == row_scale(r - 1).exactly;
    for (std::size_t e = 0; e < row(r).entries.size(); ++e)
      mirrored = mirrored && row(r).entries[e].first == row(r - 1).entries[e].first &&
                 row(r).entries[e].second == -row(r - 1).entries[e].second;
    if (!mirrored) continue;
    opposite_[r] = r - 1;
    opposite_[r - 1] = r;
  }
}

}  // namespace leastwise::proof
