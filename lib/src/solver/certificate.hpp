#pragma once
#include <span>
#include <vector>

#include "solver/lp_solver.hpp"

namespace leastwise::solver {

/// Figures further off than this, relative to the size of their row or cost, are not believed.
/// Measured on thousands of blends CLP stays below 2e-11, so this never fires falsely.
inline constexpr double certificate_tolerance = 1e-7;

/// The most by which the cost of an optimum may lie from its bound, relative to what changes hands.
inline constexpr double gap_tolerance = 1e-9;

/// Worst violation of a row or column bound by `x`, relative to the size of the terms in the row.
[[nodiscard]] double primal_violation(const LinearProgram& data, std::span<const double> x);

/// Sets amounts to zero that rounding left on columns that may be zero, save for those that a row
/// cannot do without, however small they are. After that a column is in use when it is above zero.
void round_small_to_zero(const LinearProgram& data, std::vector<double>& x);

/// Sets duals to zero that rounding left on a side where the row has no bound.
void clean_duals(const LinearProgram& data, std::vector<double>& y);

/// What the duals `y` prove.
struct DualProof {
  double bound = 0;      ///< no feasible x costs less, up to `violation`
  double violation = 0;  ///< worst reduced cost of the wrong sign on an unbounded side, relative
  double size = 0;       ///< sum of the magnitudes of the bound's terms
};

/// Recomputes all reduced costs from `data` and adds up the bound that `y` proves.
[[nodiscard]] DualProof dual_proof(const LinearProgram& data, std::span<const double> y);

/// How far the cost of `x` lies from the bound, relative to what changes hands; what rounding does
/// to the terms of the bound is forgiven.
[[nodiscard]] double optimality_gap(const LinearProgram& data, std::span<const double> x,
                                    const DualProof& proof);

/// Reduced cost of each column: cost - A'y, from `data`.
[[nodiscard]] std::vector<double> reduced_costs(const LinearProgram& data,
                                                std::span<const double> y);

/// True when `y` adds the rows up to a contradiction: every x within its bounds gives y'Ax strictly
/// below what the rows demand (Farkas).
[[nodiscard]] bool contradicts(const LinearProgram& data, std::span<const double> y);
/// The same where no x gives more than what the rows demand, to within rounding: they just touch.
[[nodiscard]] bool leaves_no_room(const LinearProgram& data, std::span<const double> y);

/// `data` with every row ready to give way, at a price of one per unit of the row divided by its
/// largest coefficient; nothing else costs anything. The surpluses are columns after those of
/// `data`; the least cost is zero where `data` is feasible, and else by how much it is not.
[[nodiscard]] LinearProgram elastic(const LinearProgram& data);

/// Looks for multipliers that prove `data` infeasible: a single row that its columns' bounds
/// cannot satisfy, else the duals of the elastic program (every row may give way at a price).
///
/// Returns: verified multipliers; empty when none could be found and verified.
[[nodiscard]] std::vector<double> prove_infeasible(const LinearProgram& data,
                                                   const base::Deadline& deadline);

}  // namespace leastwise::solver
