#pragma once
#include <vector>

#include "base/stop_check.hpp"
#include "solver/lp_solver.hpp"

namespace leastwise::solver {

/// A basis: where each column and each row stands.
struct Basis {
  std::vector<BasisStatus> columns{};
  std::vector<BasisStatus> rows{};
};

/// What a linear program comes to when nothing is rounded until the end.
struct ExactEnd {
  LinearStatus status = LinearStatus::failed;
  std::vector<double> x{};
  std::vector<double> y{};  ///< duals, or multipliers of a contradiction; the nearest doubles
  Basis basis{};            ///< of the optimum
};

/// Solves `data` in whole fractions, its numbers taken as the doubles they are, starting near
/// `start`. For the few programs on whose verdict rounded arithmetic cannot agree with itself; the
/// cost is that of numbers with hundreds of digits.
///
/// Returns: `optimal` or `infeasible`; `failed` when the cost has no lower bound or a column no
/// finite lower bound. Throws: base::Interrupted when `stop_check` does.
[[nodiscard]] ExactEnd solve_without_rounding(const LinearProgram& data, const Basis& start,
                                              const base::StopCheck& stop_check);

}  // namespace leastwise::solver
