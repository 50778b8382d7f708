#pragma once
#include <cstddef>
#include <span>
#include <vector>

#include "solver/linear_program.hpp"

namespace leastwise::solver {

/// A linear program as the dense kernel holds it: minimise cost.x subject to A x - r = 0 with
/// bounds on every variable. Variables are the columns x, then the activities r of the rows.
///
/// Every scale is a power of two, so nothing is rounded on the way in or out. Scaled, the largest
/// coefficient of each row and the largest cost are about 1, and the smallest limit of a row too.
class ScaledProgram {
 public:
  explicit ScaledProgram(const LinearProgram& data);

  struct Entry {
    std::size_t column = 0;
    double value = 0;
  };

  [[nodiscard]] std::size_t rows() const { return row_scale_.size(); }
  [[nodiscard]] std::size_t columns() const { return columns_; }
  [[nodiscard]] std::size_t variables() const { return cost_.size(); }
  [[nodiscard]] std::span<const Entry> row(std::size_t i) const {
    return std::span(entries_).subspan(start_[i], start_[i + 1] - start_[i]);
  }
  /// Of every variable; zero for rows.
  [[nodiscard]] std::span<const double> costs() const { return cost_; }
  [[nodiscard]] double cost(std::size_t column) const { return cost_[column]; }
  /// Other costs of the columns, in the caller's units.
  void set_costs(std::span<const double> cost);
  /// Other coefficients in row `i`, in the caller's units; the columns are the same, in their
  /// order.
  void set_row(std::size_t i, std::span<const model::Entry> entries);

  /// A value of variable `v` in the caller's units is this many times the scaled one.
  [[nodiscard]] double unit(std::size_t v) const { return unit_[v]; }
  /// The same for the cost.
  [[nodiscard]] double cost_unit() const { return cost_scale_ * limit_scale_; }
  /// The same for the dual of row `i`.
  [[nodiscard]] double dual_unit(std::size_t i) const { return cost_scale_ / row_scale_[i]; }
  /// A multiplier of the caller's row `i` is this many times the one of the scaled row.
  [[nodiscard]] double multiplier_unit(std::size_t i) const { return 1 / row_scale_[i]; }

 private:
  void scale_rows(const LinearProgram& data);
  double price(std::span<const double> cost);
  void rescale_costs(double largest);
  void set_units(const LinearProgram& data, const std::vector<double>& column_scale);

  std::vector<std::size_t> start_{0};
  std::vector<Entry> entries_{};
  std::size_t columns_ = 0;
  std::vector<double> cost_{};
  std::vector<double> to_cost_{};  ///< by column: what a cost of the caller's is multiplied by
  std::vector<double> row_scale_{};
  std::vector<double> unit_{};
  double cost_scale_ = 1;
  double limit_scale_ = 1;
};

}  // namespace leastwise::solver
