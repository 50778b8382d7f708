#include "proof/exact_program.hpp"

namespace leastwise::proof {
namespace {

WholeRow whole(const ExactRow& row, const std::vector<Rational>& column_scale) {
  WholeRow result;
  const Integer times = denominator(row.limit);
  result.limit = numerator(row.limit);
  Integer common = abs(result.limit);
  for (const auto& [j, value] : row.entries) {
    result.entries.emplace_back(j, numerator(Rational(value * column_scale[j] * times)));
    common = gcd(common, result.entries.back().second);
  }
  if (common > 1) {
    result.limit /= common;
    for (auto& [j, value] : result.entries) value /= common;
  }
  result.scale = common > 1 ? Rational(times, common) : Rational(times);
  result.scale_about = result.scale.convert_to<double>();
  return result;
}

}  // namespace

ExactProgram::ExactProgram(const Scenario& scenario, const model::Model& model)
    : rules_(exact_rows(scenario, model)) {
  scale_columns(exact_costs(scenario, model));
  for (const auto& row : rules_) rows_.push_back(whole(row, column_scale_));
  find_opposites();
}

/// The least factor for each column that leaves no fraction in it.
void ExactProgram::scale_columns(const std::vector<Rational>& costs) {
  std::vector<Integer> scale;
  for (const auto& cost : costs) scale.push_back(denominator(cost));
  for (const auto& row : rules_)
    for (const auto& [j, value] : row.entries)
      scale[j] = lcm(scale[j], Integer(denominator(value)));
  for (std::size_t j = 0; j < costs.size(); ++j) {
    column_scale_.emplace_back(scale[j]);
    cost_.push_back(numerator(Rational(costs[j] * scale[j])));
  }
}

void ExactProgram::find_opposites() {
  for (std::size_t r = 0; r < rules_.size(); ++r) {
    opposite_.push_back(r);
    if (r == 0 || rules_[r].rule != rules_[r - 1].rule || rows_[r].limit != -rows_[r - 1].limit ||
        rows_[r].entries.size() != rows_[r - 1].entries.size() ||
        rules_[r].is_maximum == rules_[r - 1].is_maximum)
      continue;
    bool mirrored = rows_[r].scale == rows_[r - 1].scale;
    for (std::size_t e = 0; e < rows_[r].entries.size(); ++e)
      mirrored = mirrored && rows_[r].entries[e].first == rows_[r - 1].entries[e].first &&
                 rows_[r].entries[e].second == -rows_[r - 1].entries[e].second;
    if (!mirrored) continue;
    opposite_[r] = r - 1;
    opposite_[r - 1] = r;
  }
}

}  // namespace leastwise::proof
