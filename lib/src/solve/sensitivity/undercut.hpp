#pragma once
#include <cstddef>
#include <optional>

#include "model/model.hpp"
#include "solve/sensitivity/limit_walk.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// Whether a branch of the either-or rules undercuts a blend somewhere along a limit.
struct Undercut {
  bool settled = false;           ///< false: not found out, because of a limit or of numerics
  std::optional<double> limit{};  ///< where it does; empty: nowhere, if settled
};

/// Looks for a blend that costs less than `own` by more than `tolerance` at any limit of rule `r`
/// from `first` to `last` (which may lie below `first`).
///
/// A branch and bound along the limit: the program of each branch is followed from basis to basis,
/// and in each basis its cost is a curve that is compared with `own` as a whole, so nothing between
/// is skipped but a millionth of the limit where a blend ends or one becomes cheaper. Of a branch
/// without a blend it is the shortfall of its rows that is followed, until it is gone. Where a
/// branch is cheaper but breaks an either-or rule it is divided there.
[[nodiscard]] Undercut find_undercut(const model::Model& model, std::size_t r, const CostCurve& own,
                                     double first, double last, double tolerance,
                                     const solver::SearchOptions& options);

}  // namespace leastwise::solve
