#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "solver/scaled_program.hpp"

namespace leastwise::solver {

/// A basis of a scaled program with its tableau: basic = -(entries) * nonbasic, since A x - r = 0.
///
/// A row without bounds holds nothing: its activity stays basic, and it is left out ("asleep")
/// until it gets a bound. A value: functions that need the program's rows are given it anew.
class DenseTableau {
 public:
  /// The basis of all rows.
  explicit DenseTableau(const ScaledProgram& program);

  [[nodiscard]] std::size_t rows() const { return basic_.size(); }
  [[nodiscard]] std::size_t columns() const { return nonbasic_.size(); }
  [[nodiscard]] std::size_t basic(std::size_t p) const { return basic_[p]; }
  [[nodiscard]] std::size_t nonbasic(std::size_t q) const { return nonbasic_[q]; }
  [[nodiscard]] const double* row(std::size_t p) const { return entries_.data() + p * stride_; }
  [[nodiscard]] double entry(std::size_t p, std::size_t q) const { return row(p)[q]; }
  /// Reduced cost of each nonbasic.
  [[nodiscard]] const double* reduced() const { return reduced_.data(); }
  [[nodiscard]] bool is_basic(std::size_t v) const { return where_[v] >= 0 || asleep(v); }
  [[nodiscard]] bool asleep(std::size_t v) const { return where_[v] == nowhere; }
  /// Row of a basic variable that is awake.
  [[nodiscard]] std::size_t row_of(std::size_t v) const {
    return static_cast<std::size_t>(where_[v]);
  }
  /// Column of a nonbasic variable.
  [[nodiscard]] std::size_t column_of(std::size_t v) const {
    return static_cast<std::size_t>(-1 - where_[v]);
  }
  [[nodiscard]] int pivots() const { return pivots_; }  ///< since it was built from the rows

  /// What the nonbasics cost at `cost`, one for each variable, beside the basic variables that they
  /// replace: into `out`, of at least `width()` numbers.
  void price_out(std::span<const double> cost, double* out) const;
  [[nodiscard]] std::size_t width() const { return stride_; }
  /// Reduced costs under other costs than so far.
  void price(std::span<const double> cost) { price_out(cost, reduced_.data()); }
  /// Whether a mixture of the program's rows comes out of the tableau as the zero that it is.
  [[nodiscard]] bool agrees_with(const ScaledProgram& program) const;

  /// Basic variable of row `p` and nonbasic of column `q` change places.
  void exchange(std::size_t p, std::size_t q);
  /// The coefficients of row `v`, one for each variable, have changed by `change`: one step of
  /// elimination. Returns: false when the basis is none any more, to working precision.
  [[nodiscard]] bool change_row(std::size_t v, std::span<const double> change);
  /// Variable `v`, a row, is asleep: takes it in as basic.
  void wake(const ScaledProgram& program, std::size_t v);
  /// Variable `v`, a row, is basic: leaves it out.
  void put_to_sleep(std::size_t v);
  /// Exchanges until exactly the variables marked in `wanted` are basic, those asleep among them.
  /// Returns: false when they are no basis to working precision; then another basis is left.
  [[nodiscard]] bool bring_about(const std::vector<char>& wanted);
  /// The present basis once more from the program's own rows. Returns: as `bring_about`.
  [[nodiscard]] bool rebuild(const ScaledProgram& program);
  /// Back to the basis of all rows.
  void reset(const ScaledProgram& program);

 private:
  static constexpr int nowhere = -2147483647;
  [[nodiscard]] double* mutable_row(std::size_t p) { return entries_.data() + p * stride_; }
  void place(std::size_t p) { where_[basic_[p]] = static_cast<int>(p); }

  std::size_t stride_;  ///< columns rounded up, so that loops need no rest
  std::vector<double> entries_{};
  std::vector<double> reduced_{};
  std::vector<std::size_t> basic_{};
  std::vector<std::size_t> nonbasic_{};
  std::vector<int> where_{};  ///< row of a basic, -1 - column of a nonbasic
  int pivots_ = 0;
};

}  // namespace leastwise::solver
