#pragma once
#include <leastwise/known.hpp>

#include <cstddef>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// A limit to move.
struct Relaxation {
  std::size_t rule = 0;
  /// The new limit: six significant digits, rounded to the generous side. An equality has none and
  /// keeps all digits.
  double limit = 0;
};

/// A small total relative change of limits that makes a model possible, either-or rules kept.
struct FeasibilityRelaxation {
  /// None: no change of limits is enough.
  Known<std::vector<Relaxation>> changes{};
  bool least = false;  ///< no smaller change is enough
};

/// Where rows do not drift with their limits one linear program (one search) has the answer.
/// Elsewhere what a change weighs depends on the blend: weights found by repeating give a small
/// change, `least_change` the least one, unless it gives the proof up.
[[nodiscard]] FeasibilityRelaxation relax_to_feasible(const Scenario& scenario,
                                                      const model::Model& model,
                                                      const solver::SearchOptions& options);

}  // namespace leastwise::solve
