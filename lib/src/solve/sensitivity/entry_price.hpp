#pragma once
#include <leastwise/known.hpp>

#include "model/model.hpp"
#include "solver/branch_program.hpp"
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

/// The same where no either-or rule is, from one solve with a little of the column held in the
/// blend: the least cost is convex in that amount, so where its slope there leads back to the cost
/// of `solution`, it is the slope from zero on.
/// Returns: not computed where the little is too much for the first piece of that curve.
[[nodiscard]] Known<double> entry_cost_of_first(solver::BranchProgram& program, int column,
                                                const solver::SearchResult& solution);

/// False when every basic variable of `solution` lies strictly between its bounds: reduced
/// costs then are entry prices and duals are unique.
[[nodiscard]] bool is_degenerate(const solver::SearchResult& solution);

}  // namespace leastwise::solve
