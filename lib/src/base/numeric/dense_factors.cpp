#include "base/numeric/dense_factors.hpp"

#include <cmath>
#include <utility>

namespace leastwise::numeric {

bool DenseFactors::factorise() {
  for (std::size_t i = 0; i < size_; ++i) order_[i] = i;
  for (std::size_t k = 0; k < size_; ++k) {
    std::size_t pivot = k;
    for (std::size_t i = k + 1; i < size_; ++i)
      if (std::fabs(at(i, k)) > std::fabs(at(pivot, k))) pivot = i;
    if (std::fabs(at(pivot, k)) < 1e-13) return false;
    if (pivot != k) {
      for (std::size_t j = 0; j < size_; ++j) std::swap(at(k, j), at(pivot, j));
      std::swap(order_[k], order_[pivot]);
    }
    for (std::size_t i = k + 1; i < size_; ++i) {
      const double factor = at(i, k) /= at(k, k);
      if (factor == 0) continue;
      for (std::size_t j = k + 1; j < size_; ++j) at(i, j) -= factor * at(k, j);
    }
  }
  return true;
}

std::vector<double> DenseFactors::solve(const std::vector<double>& b) const {
  std::vector<double> z(size_);
  for (std::size_t i = 0; i < size_; ++i) {
    z[i] = b[order_[i]];
    for (std::size_t j = 0; j < i; ++j) z[i] -= at(i, j) * z[j];
  }
  for (std::size_t i = size_; i-- > 0;) {
    for (std::size_t j = i + 1; j < size_; ++j) z[i] -= at(i, j) * z[j];
    z[i] /= at(i, i);
  }
  return z;
}

std::vector<double> DenseFactors::solve_transposed(std::vector<double> b) const {
  for (std::size_t i = 0; i < size_; ++i) {
    for (std::size_t j = 0; j < i; ++j) b[i] -= at(j, i) * b[j];
    b[i] /= at(i, i);
  }
  for (std::size_t i = size_; i-- > 0;)
    for (std::size_t j = i + 1; j < size_; ++j) b[i] -= at(j, i) * b[j];
  std::vector<double> z(size_);
  for (std::size_t i = 0; i < size_; ++i) z[order_[i]] = b[i];
  return z;
}

}  // namespace leastwise::numeric
