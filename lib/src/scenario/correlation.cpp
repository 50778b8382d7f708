#include "scenario/correlation.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

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

namespace {

double product(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t k = 0; k < a.size(); ++k) sum += a[k] * b[k];
  return sum;
}

/// Solves root * result = right; empty where the root is singular.
std::vector<double> solved(const std::vector<std::vector<double>>& root,
                           std::vector<double> right) {
  for (std::size_t i = 0; i < right.size(); ++i) {
    if (root[i][i] == 0) return {};
    for (std::size_t k = 0; k < i; ++k) right[i] -= root[i][k] * right[k];
    right[i] /= root[i][i];
  }
  return right;
}

}  // namespace

std::optional<CorrelationRoom> least_change(const std::vector<std::vector<double>>& matrix,
                                            const CorrelationRoot& root) {
  if (!root.broken) return std::nullopt;
  const std::size_t i = *root.broken;
  std::optional<CorrelationRoom> best;
  double least = 2;
  for (std::size_t j = 0; j < i; ++j) {
    // Semi-definite as long as the row without r and r times `along` together are at most 1 long.
    auto row = std::vector<double>(matrix[i].begin(), matrix[i].begin() + static_cast<long>(i));
    const double r = std::exchange(row[j], 0.0);
    std::vector<double> unit(i, 0.0);
    unit[j] = 1;
    const auto rest = solved(root.rows, std::move(row));
    const auto along = solved(root.rows, std::move(unit));
    if (rest.empty() || along.empty()) return std::nullopt;
    const double middle = -product(rest, along) / product(along, along);
    const double square = middle * middle - (product(rest, rest) - 1) / product(along, along);
    if (square < 0) continue;
    const CorrelationRoom room{j, middle - std::sqrt(square), middle + std::sqrt(square)};
    const double change = std::max(room.from - r, r - room.to);
    if (change >= least) continue;
    least = change;
    best = room;
  }
  return best;
}

CorrelationRoot correlation_root(const std::vector<std::vector<double>>& matrix) {
  constexpr double negligible = 1e-9;
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
    if (rest < -negligible) {
      root.broken = i;
      return root;
    }
    row[i] = rest <= negligible ? 0 : std::sqrt(rest);
    root.rows.push_back(std::move(row));
  }
  return root;
}

}  // namespace leastwise
