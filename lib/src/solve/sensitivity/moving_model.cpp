#include "solve/sensitivity/moving_model.hpp"

#include <algorithm>

#include "solve/index.hpp"

namespace leastwise::solve {

MovingModel::MovingModel(const model::Model& original, const solver::SearchOptions& options)
    : original_(original), options_(options), moved_(original) {}

const model::Model& MovingModel::at(std::size_t r, double limit) {
  if (at_rule_ >= 0) restore(index(at_rule_));
  model::set_limit(moved_, r, limit);
  at_rule_ = static_cast<int>(r);
  return moved_;
}

/// Takes the limit and the coefficients of rule `r` and of its partner from the original: moving
/// them back would leave rounding.
void MovingModel::restore(std::size_t r) {
  for (const int k : {static_cast<int>(r), original_.rules[r].paired_rule}) {
    if (k < 0) continue;
    const auto& rule = original_.rules[index(k)];
    moved_.rules[index(k)].limit = rule.limit;
    if (rule.row < 0 || rule.coefficient_derivatives.empty()) continue;
    const auto first = original_.row_start[index(rule.row)];
    const auto last = original_.row_start[index(rule.row) + 1];
    std::copy(original_.entries.begin() + first, original_.entries.begin() + last,
              moved_.entries.begin() + first);
  }
}

}  // namespace leastwise::solve
