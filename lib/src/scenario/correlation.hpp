#pragma once
#include <leastwise/price_spread.hpp>

#include <cstddef>
#include <optional>
#include <vector>

namespace leastwise {

/// The lower triangle of a correlation matrix's root: row i has i + 1 entries.
struct CorrelationRoot {
  std::vector<std::vector<double>> rows{};
  /// The first price whose correlations with those before it contradict one another; when there
  /// is one, `rows` ends before it.
  std::optional<std::size_t> broken{};
};

/// Cholesky's method for a matrix that may be singular. `matrix` is symmetric with ones on its
/// diagonal.
[[nodiscard]] CorrelationRoot correlation_root(const std::vector<std::vector<double>>& matrix);

/// What one correlation may be, all others as they are.
struct CorrelationRoom {
  std::size_t other = 0;  ///< the price that `root.broken` is correlated with
  double from = -1;
  double to = 1;
};

/// The correlation of `root.broken` with a price before it that alone would have to change, and
/// least, for the two to go with all those before; nothing when no single one would do.
[[nodiscard]] std::optional<CorrelationRoom> least_change(
    const std::vector<std::vector<double>>& matrix, const CorrelationRoot& root);

/// The correlations of `uncertainty` as a matrix along its `prices`.
[[nodiscard]] std::vector<std::vector<double>> correlation_matrix(
    const PriceUncertainty& uncertainty);

}  // namespace leastwise
