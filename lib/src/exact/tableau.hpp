#pragma once
#include <vector>

#include "base/stop_check.hpp"
#include "exact/rational.hpp"

namespace leastwise::exact {

/// minimise cost.u subject to A u >= limit, u >= 0, solved in whole numbers without rounding.
///
/// Variables 0 to columns-1 are the u, the rest the surpluses of the rows. All entries share one
/// denominator, so a pivot divides without remainder.
class Tableau {
 public:
  /// `matrix` by row.
  Tableau(const std::vector<std::vector<Integer>>& matrix, const std::vector<Integer>& limit,
          const std::vector<Integer>& cost);

  enum class Status { optimal, infeasible, unbounded };

  /// Brings as many of these columns into the basis as these rows allow, before solving.
  void crash(const std::vector<char>& rows, const std::vector<char>& columns,
             const base::StopCheck& stop_check);
  /// Least-index criss-cross pivoting (Terlaky 1985, from memory): ends from any basis.
  Status solve(const base::StopCheck& stop_check);

  [[nodiscard]] const Integer& denominator() const { return denominator_; }
  /// Values of u, over the denominator.
  [[nodiscard]] std::vector<Integer> values() const;
  /// After `optimal` the duals, over the denominator; after `infeasible` multipliers of a
  /// contradiction; after `unbounded` zeros.
  [[nodiscard]] std::vector<Integer> multipliers() const;
  /// After `unbounded`: a direction over u along which the cost falls for ever.
  [[nodiscard]] std::vector<Integer> ray() const;
  /// Which columns are basic, and which rows tight.
  [[nodiscard]] std::vector<char> basic_columns() const;
  [[nodiscard]] std::vector<char> tight_rows() const;
  [[nodiscard]] long pivots() const { return pivots_; }

 private:
  void eliminate(std::size_t i, std::size_t row, std::size_t column);
  void pivot(std::size_t row, std::size_t column);
  Integer& at(std::size_t row, std::size_t column) { return cells_[row * width_ + column]; }
  [[nodiscard]] const Integer& at(std::size_t row, std::size_t column) const {
    return cells_[row * width_ + column];
  }

  std::size_t rows_;
  std::size_t columns_;
  std::size_t width_;             ///< columns and the constant
  std::vector<Integer> cells_{};  ///< rows, then the cost
  Integer denominator_ = 1;
  std::vector<std::size_t> basic_{};     ///< variable of each row
  std::vector<std::size_t> nonbasic_{};  ///< variable of each column
  std::size_t stuck_ = 0;                ///< row or column that shows infeasible or unbounded
  Status status_ = Status::optimal;
  long pivots_ = 0;
};

}  // namespace leastwise::exact
