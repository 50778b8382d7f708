#include "solve/active_basis.hpp"

#include <algorithm>
#include <cmath>

namespace leastwise::solve {

using solver::BasisStatus;

ActiveBasis::ActiveBasis(const solver::LinearProgram& data, const solver::SearchResult& solution)
    : data_(data), column_at_(solution.x.size(), -1) {
  for (std::size_t i = 0; i < solution.row_standing.size(); ++i)
    if (solution.row_standing[i] != BasisStatus::basic) rows_.push_back(static_cast<int>(i));
  for (std::size_t j = 0; j < solution.column_standing.size(); ++j)
    if (solution.column_standing[j] == BasisStatus::basic) {
      column_at_[j] = static_cast<int>(columns_.size());
      columns_.push_back(static_cast<int>(j));
    }
}

bool ActiveBasis::factorise() {
  if (rows_.size() != columns_.size()) return false;
  factors_.emplace(rows_.size());
  scale_.assign(rows_.size(), 1.0);
  for (std::size_t k = 0; k < rows_.size(); ++k) {
    double largest = 0;
    for_each_entry(data_, rows_[k],
                   [&](int, double a) { largest = std::max(largest, std::fabs(a)); });
    if (largest > 0) scale_[k] = largest;
    for_each_entry(data_, rows_[k], [&](int j, double a) {
      const int at = position_of_column(j);
      if (at >= 0) factors_->at(k, static_cast<std::size_t>(at)) = a / scale_[k];
    });
  }
  return factors_->factorise();
}

std::vector<double> ActiveBasis::respond(std::vector<double> rhs) const {
  for (std::size_t k = 0; k < rhs.size(); ++k) rhs[k] /= scale_[k];
  return factors_->solve(rhs);
}

std::vector<double> ActiveBasis::price(const std::vector<double>& d) const {
  auto v = factors_->solve_transposed(d);
  for (std::size_t k = 0; k < v.size(); ++k) v[k] /= scale_[k];
  return v;
}

}  // namespace leastwise::solve
