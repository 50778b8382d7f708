#include "solver/dense_values.hpp"

namespace leastwise::solver {

std::vector<double> residuals(const ScaledProgram& program, const std::vector<double>& values) {
  const auto n = program.columns();
  std::vector<double> missed(program.rows());
  for (std::size_t i = 0; i < missed.size(); ++i) {
    double activity = 0;
    for (const auto& [column, value] : program.row(i)) activity += value * values[column];
    missed[i] = activity - values[n + i];
  }
  return missed;
}

void refine_values(const ScaledProgram& program, const DenseTableau& tableau,
                   std::vector<double>& values) {
  const auto n = program.columns();
  const auto missed = residuals(program, values);
  // r + missed obeys the rows. A basic row takes that; a nonbasic one is moved back to its bound,
  // and the basic variables with it.
  for (std::size_t i = 0; i < missed.size(); ++i) {
    if (missed[i] == 0) continue;
    const auto v = n + i;
    if (tableau.is_basic(v)) {
      values[v] += missed[i];
      continue;
    }
    const auto q = tableau.column_of(v);
    for (std::size_t p = 0; p < tableau.rows(); ++p)
      values[tableau.basic(p)] += tableau.entry(p, q) * missed[i];
  }
}

std::vector<double> combined_rows(const ScaledProgram& program, const std::vector<double>& y) {
  std::vector<double> sum(program.columns(), 0.0);
  for (std::size_t i = 0; i < y.size(); ++i) {
    if (y[i] == 0) continue;
    for (const auto& [column, value] : program.row(i)) sum[column] += value * y[i];
  }
  return sum;
}

std::vector<double> refined_duals(const ScaledProgram& program, const DenseTableau& tableau) {
  const auto n = program.columns();
  std::vector<double> y(program.rows(), 0.0);
  for (std::size_t i = 0; i < y.size(); ++i)
    if (!tableau.is_basic(n + i)) y[i] = tableau.reduced()[tableau.column_of(n + i)];
  const auto sum = combined_rows(program, y);
  // With the costs of the basic columns moved by what they miss, y would be exact; it is moved
  // back by what that changes in the reduced costs of the nonbasic rows.
  for (std::size_t p = 0; p < tableau.rows(); ++p) {
    const auto j = tableau.basic(p);
    if (j >= n) continue;
    const double missed = program.cost(j) - sum[j];
    if (missed == 0) continue;
    for (std::size_t i = 0; i < y.size(); ++i)
      if (!tableau.is_basic(n + i)) y[i] -= tableau.entry(p, tableau.column_of(n + i)) * missed;
  }
  return y;
}

std::vector<double> row_combination(const ScaledProgram& program, const DenseTableau& tableau,
                                    std::size_t p) {
  const auto n = program.columns();
  std::vector<double> y(program.rows(), 0.0);
  if (tableau.basic(p) >= n) y[tableau.basic(p) - n] = 1;
  for (std::size_t i = 0; i < y.size(); ++i)
    if (!tableau.is_basic(n + i)) y[i] = tableau.entry(p, tableau.column_of(n + i));
  return y;
}

}  // namespace leastwise::solver
