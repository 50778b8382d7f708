#pragma once
#include <optional>
#include <vector>

#include "solver/branch_and_bound.hpp"

namespace leastwise::analysis {

/// The columns of materials that `x` makes use of, most first; ties in order of definition.
[[nodiscard]] std::vector<int> support_of(const model::Model& model, const std::vector<double>& x);

/// A node that leaves `column` out, or demands it, besides what `parent` asks.
[[nodiscard]] solver::TreeNode without(const solver::TreeNode& parent, int column);
/// Also takes what the demand implies under either-or rules: families kept apart from it leave, its
/// minimum if used holds, the last bin closes. Nothing when that cannot be.
[[nodiscard]] std::optional<solver::TreeNode> demanding(const model::Model& model,
                                                        const solver::TreeNode& parent, int column);

}  // namespace leastwise::analysis
