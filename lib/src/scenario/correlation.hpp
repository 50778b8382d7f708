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

/// The correlations of `uncertainty` as a matrix along its `prices`.
[[nodiscard]] std::vector<std::vector<double>> correlation_matrix(
    const PriceUncertainty& uncertainty);

}  // namespace leastwise
