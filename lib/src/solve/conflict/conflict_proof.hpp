#pragma once
#include <vector>

#include "model/model.hpp"
#include "solve/conflict/conflict.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// The constraints that a proof of infeasibility rests on: the limits that its contradictions add
/// up, and the either-or rules that its branches need. Possibly some more than are needed, never
/// fewer.
///
/// `leaves` settle `model` as infeasible under costs of zero.
[[nodiscard]] std::vector<Constraint> in_farkas_support(const model::Model& model,
                                                        const std::vector<solver::Leaf>& leaves);

}  // namespace leastwise::solve
