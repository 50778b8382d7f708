#pragma once
#include <vector>

#include "solver/dense_tableau.hpp"
#include "solver/scaled_program.hpp"

namespace leastwise::solver {

/// What each row misses: A x - r, for the values of all variables of `program`.
[[nodiscard]] std::vector<double> residuals(const ScaledProgram& program,
                                            const std::vector<double>& values);

/// One step of iterative refinement: the basic ones of `values` moved by what the rows miss.
void refine_values(const ScaledProgram& program, const DenseTableau& tableau,
                   std::vector<double>& values);

/// Duals of the rows, scaled, from the tableau's reduced costs, after one step of refinement by
/// what the reduced costs of the basic columns miss.
[[nodiscard]] std::vector<double> refined_duals(const ScaledProgram& program,
                                                const DenseTableau& tableau);

/// Multipliers of the scaled rows that add up to tableau row `p`: the sum of y_i (r_i - A_i x).
[[nodiscard]] std::vector<double> row_combination(const ScaledProgram& program,
                                                  const DenseTableau& tableau, std::size_t p);

/// A'y, over the columns.
[[nodiscard]] std::vector<double> combined_rows(const ScaledProgram& program,
                                                const std::vector<double>& y);

}  // namespace leastwise::solver
