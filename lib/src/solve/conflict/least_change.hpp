#pragma once
#include <vector>

#include "model/model.hpp"
#include "solve/conflict/elastic_rules.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// A point of an elastic program that needs a small change of limits.
struct LeastChange {
  std::vector<double> x{};  ///< its columns: amounts, then surpluses
  bool proved = false;      ///< no point needs one that is smaller by more than 1e-5 of it
};

/// The least sum of relative changes, from a point `x` that needs some change.
///
/// Branch and bound over boxes of what limits are measured against (`ChangeProgram`): each bound is
/// one that the search proved, and boxes are divided until none can hold a smaller change. Per
/// hectare, blends with less or more product than the first box has are shown to need more.
[[nodiscard]] LeastChange least_change(const model::Model& elastic,
                                       const std::vector<Surplus>& surplus, std::vector<double> x,
                                       const solver::SearchOptions& options);

}  // namespace leastwise::solve
