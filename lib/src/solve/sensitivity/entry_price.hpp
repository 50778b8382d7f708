#pragma once
#include <leastwise/known.hpp>

#include "model/model.hpp"
#include "solve/sensitivity/limit_walk.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// The cost per kg below which column `column`, at zero in the optimum `solution`, would be used.
///
/// With F(p) the least cost at price p, the entry price is the largest p with F(p) < F(now); each
/// step solves at p and moves to where that blend breaks even (Dinkelbach), so it ends on the
/// exact value after a few solves.
/// Returns: none when the column would not be used even at `floor`; not computed when a limit or
/// rounding kept that from being proved.
[[nodiscard]] Known<double> entry_cost_per_kg(const model::Model& model, int column,
                                              const solver::SearchResult& solution, double floor,
                                              const solver::SearchOptions& options);

/// The same where no either-or rule is: the least cost is convex in the amount of the column that
/// is held in the blend, and its slope from zero on is what the column costs too much.
/// Returns: none when no blend can hold any of it; not computed where rounding hides the slope.
[[nodiscard]] Known<double> entry_cost_of_first(BasisProgram& program, int column,
                                                const solver::SearchResult& solution,
                                                const solver::SearchOptions& options);

/// False when every basic variable of `solution` lies strictly between its bounds: reduced
/// costs then are entry prices and duals are unique.
[[nodiscard]] bool is_degenerate(const solver::SearchResult& solution);

}  // namespace leastwise::solve
