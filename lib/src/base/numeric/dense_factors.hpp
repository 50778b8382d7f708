#pragma once
#include <cstddef>
#include <vector>

namespace leastwise::numeric {

/// A small dense square matrix with its LU factors, partial pivoting.
class DenseFactors {
 public:
  explicit DenseFactors(std::size_t size) : size_(size), lu_(size * size, 0.0), order_(size) {}

  /// To be filled before `factorise`.
  double& at(std::size_t row, std::size_t column) { return lu_[row * size_ + column]; }

  /// Returns: false when the matrix is singular to working precision.
  [[nodiscard]] bool factorise();
  /// Solves M z = b.
  [[nodiscard]] std::vector<double> solve(const std::vector<double>& b) const;
  /// Solves M' z = b.
  [[nodiscard]] std::vector<double> solve_transposed(std::vector<double> b) const;

 private:
  [[nodiscard]] double at(std::size_t row, std::size_t column) const {
    return lu_[row * size_ + column];
  }

  std::size_t size_;
  std::vector<double> lu_;
  std::vector<std::size_t> order_;
};

}  // namespace leastwise::numeric
