#pragma once
#include <leastwise/limits.hpp>

#include <cstddef>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::analysis {

struct PossibleLimits {
  solver::SearchStatus status = solver::SearchStatus::optimal;
  Limits limits{};
  long solves = 0;
};

/// The least and the greatest limit within `asked` at which `rules`, all moved together, leave a
/// blend. The rules' rows must not drift. Between the two there is a blend at every limit, unless
/// either-or rules and a two-sided rule come together.
[[nodiscard]] PossibleLimits possible_limits(const model::Model& model,
                                             const std::vector<std::size_t>& rules,
                                             const Limits& asked,
                                             const solver::SearchOptions& options);

}  // namespace leastwise::analysis
