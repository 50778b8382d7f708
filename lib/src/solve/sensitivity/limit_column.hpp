#pragma once
#include <leastwise/limits.hpp>

#include <cstddef>
#include <vector>

#include "model/model.hpp"

namespace leastwise::solve {

/// `model` with the limit of `rules`, all moved together within `range`, as a last column of its
/// own without a cost: what holds for every limit at once is found in one solve.
///
/// The column is in the user's unit of the limit and is no amount of a material: it lies past the
/// end of `Model::material_of`. The rules' rows must not drift.
[[nodiscard]] model::Model with_limit_column(const model::Model& model,
                                             const std::vector<std::size_t>& rules,
                                             const Limits& range);

}  // namespace leastwise::solve
