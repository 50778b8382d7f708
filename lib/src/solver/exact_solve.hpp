#pragma once
#include <vector>

#include "base/patience.hpp"
#include "solver/linear_program.hpp"

namespace leastwise::solver {

/// A basis: where each column and each row stands.
struct Basis {
  std::vector<Standing> columns{};
  std::vector<Standing> rows{};
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
/// finite lower bound. Throws: base::Interrupted when `patience` does.
[[nodiscard]] ExactEnd solve_without_rounding(const LinearData& data, const Basis& start,
                                              const base::Patience& patience);

}  // namespace leastwise::solver
