#pragma once
#include <vector>

#include "analysis/rounding/rounding_grid.hpp"
#include "solver/search.hpp"

namespace leastwise::analysis {

struct GridSearchResult {
  /// `optimal`: proved; `infeasible`: nothing on the grid; else why it ended before the proof.
  solver::SearchStatus status = solver::SearchStatus::failed;
  bool gave_up = false;      ///< the most solves were made
  bool relaxed_too = false;  ///< infeasible already off the grid
  bool found = false;
  std::vector<double> x{};  ///< on the grid to the last bit of `unit`
  double cost = 0;
  double lower_bound = -model::infinity;
  long solves = 0;
};

/// The cheapest blend of `grid` on its grid, by branching on whole numbers of units.
[[nodiscard]] GridSearchResult search_grid(const GridModel& grid, long most_solves,
                                           const solver::SearchOptions& options);

}  // namespace leastwise::analysis
