#include "scenario/correlation.hpp"

#include <algorithm>
#include <cmath>
#include <string>

namespace leastwise {

std::vector<std::vector<double>> correlation_matrix(const PriceUncertainty& uncertainty) {
  const auto& prices = uncertainty.prices;
  std::vector<std::vector<double>> matrix(prices.size(), std::vector<double>(prices.size(), 0.0));
  for (std::size_t i = 0; i < prices.size(); ++i) matrix[i][i] = 1;
  const auto position = [&](const std::string& name) {
    return static_cast<std::size_t>(
        std::find_if(prices.begin(), prices.end(),
                     [&](const PriceSpread& p) { return p.material == name; }) -
        prices.begin());
  };
  for (const auto& pair : uncertainty.correlations) {
    const std::size_t a = position(pair.first);
    const std::size_t b = position(pair.second);
    if (a >= prices.size() || b >= prices.size()) continue;
    matrix[a][b] = matrix[b][a] = pair.r;
  }
  return matrix;
}

CorrelationRoot correlation_root(const std::vector<std::vector<double>>& matrix) {
  constexpr double rounding = 1e-9;
  CorrelationRoot root;
  for (std::size_t i = 0; i < matrix.size(); ++i) {
    std::vector<double> row(i + 1, 0.0);
    double rest = 1;
    for (std::size_t j = 0; j < i; ++j) {
      double sum = matrix[i][j];
      for (std::size_t k = 0; k < j; ++k) sum -= row[k] * root.rows[j][k];
      const double pivot = root.rows[j][j];
      // A price that follows from those before it adds nothing; then nothing may be left over.
      if (pivot == 0) {
        if (std::fabs(sum) > 1e-6) {
          root.broken = i;
          return root;
        }
        continue;
      }
      row[j] = sum / pivot;
      rest -= row[j] * row[j];
    }
    if (rest < -rounding) {
      root.broken = i;
      return root;
    }
    row[i] = rest <= rounding ? 0 : std::sqrt(rest);
    root.rows.push_back(std::move(row));
  }
  return root;
}

}  // namespace leastwise
