#pragma once
#include <optional>
#include <span>
#include <utility>

#include "exact/working_set.hpp"
#include "proof/exact_program.hpp"
#include "solver/search.hpp"

namespace leastwise::proof {

/// A decision and its counterpart, or nothing.
using Choice = std::optional<std::pair<solver::Decision, solver::Decision>>;

/// Two decisions that cover every blend and both exclude `solution`, for an either-or rule that it
/// breaks; nothing when it obeys all.
[[nodiscard]] Choice branch_on_broken_rule(const model::Model& model, const ExactProgram& program,
                                           std::span<const solver::Decision> path,
                                           const exact::ExactSolution& solution);

}  // namespace leastwise::proof
