#pragma once
#include <optional>
#include <vector>

#include "base/numeric/dense_factors.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// Calls `visit(column, value)` for each entry of `row`.
template <class Visit>
void for_each_entry(const solver::LinearProgram& data, int row, Visit visit) {
  const auto i = static_cast<std::size_t>(row);
  for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e)
    visit(data.entries[static_cast<std::size_t>(e)].column,
          data.entries[static_cast<std::size_t>(e)].value);
}

/// The basis of a solution without the rows whose slack is basic: active rows by basic columns.
/// Keeps references to what it was made from.
class ActiveBasis {
 public:
  ActiveBasis(const solver::LinearProgram& data, const solver::SearchResult& solution);

  /// Returns: false when the basis is singular to working precision, or not square.
  [[nodiscard]] bool factorise();

  /// Change of the basic columns when the right-hand sides of the active rows change by `rhs`.
  [[nodiscard]] std::vector<double> respond(std::vector<double> rhs) const;

  /// v with v'B = d on the basic columns; along `rows()`.
  [[nodiscard]] std::vector<double> price(const std::vector<double>& d) const;

  [[nodiscard]] const std::vector<int>& rows() const { return rows_; }
  [[nodiscard]] const std::vector<int>& columns() const { return columns_; }
  /// Position of column `j` in `columns()`, or -1 when it is not basic.
  [[nodiscard]] int position_of_column(int j) const {
    return column_at_[static_cast<std::size_t>(j)];
  }

 private:
  const solver::LinearProgram& data_;
  std::vector<int> rows_;
  std::vector<int> columns_;
  std::vector<int> column_at_;
  std::vector<double> scale_;
  std::optional<numeric::DenseFactors> factors_;
};

}  // namespace leastwise::solve
