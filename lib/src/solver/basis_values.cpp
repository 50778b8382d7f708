#include "solver/basis_values.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric/dense_factors.hpp"

namespace leastwise::solver {
namespace {

using model::infinity;

/// What is closer to its bound, or to zero, relative to the size of its terms, may tie.
constexpr double clearly = 1e-8;

/// The rows whose activity is at a bound by the columns that are basic.
class Core {
 public:
  Core(const LinearProgram& data, const WarmStart& start)
      : data_(data), start_(start), position_(data.cost.size(), -1) {
    for (std::size_t j = 0; j < position_.size(); ++j)
      if (start[j] == BasisStatus::basic) {
        position_[j] = static_cast<int>(columns_.size());
        columns_.push_back(j);
      }
    for (std::size_t i = 0; i < data.row_lower.size(); ++i)
      if (start[data.cost.size() + i] != BasisStatus::basic) rows_.push_back(i);
  }

  [[nodiscard]] bool solve(std::vector<double>& x, std::vector<double>& y) const {
    if (rows_.size() != columns_.size()) return false;
    numeric::DenseFactors factors(rows_.size());
    std::vector<double> scale(rows_.size(), 1.0);
    for (std::size_t k = 0; k < rows_.size(); ++k) {
      double largest = 0;
      for_each(rows_[k], [&](std::size_t, double a) { largest = std::max(largest, std::fabs(a)); });
      if (largest > 0) scale[k] = largest;
      for_each(rows_[k], [&](std::size_t j, double a) {
        if (position_[j] >= 0) factors.at(k, static_cast<std::size_t>(position_[j])) = a / scale[k];
      });
    }
    if (!factors.factorise()) return false;
    set_nonbasics(x);
    y.assign(data_.row_lower.size(), 0.0);
    for (int pass = 0; pass < 2; ++pass) {  // the second refines the first
      refine_values(factors, scale, x);
      refine_duals(factors, scale, y);
    }
    return true;
  }

 private:
  template <class Visit>
  void for_each(std::size_t i, Visit visit) const {
    for (int e = data_.row_start[i]; e < data_.row_start[i + 1]; ++e) {
      const auto& entry = data_.entries[static_cast<std::size_t>(e)];
      visit(static_cast<std::size_t>(entry.column), entry.value);
    }
  }

  void set_nonbasics(std::vector<double>& x) const {
    x.assign(position_.size(), 0.0);
    for (std::size_t j = 0; j < x.size(); ++j) {
      if (position_[j] >= 0) continue;
      const double bound = start_[j] == BasisStatus::at_upper ? data_.upper[j] : data_.lower[j];
      if (std::isfinite(bound)) x[j] = bound;
    }
  }

  void refine_values(const numeric::DenseFactors& factors, const std::vector<double>& scale,
                     std::vector<double>& x) const {
    std::vector<double> missed(rows_.size());
    for (std::size_t k = 0; k < rows_.size(); ++k) {
      const auto i = rows_[k];
      const bool up = start_[position_.size() + i] == BasisStatus::at_upper;
      double rest = up ? data_.row_upper[i] : data_.row_lower[i];
      for_each(i, [&](std::size_t j, double a) { rest -= a * x[j]; });
      missed[k] = rest / scale[k];
    }
    const auto change = factors.solve(missed);
    for (std::size_t c = 0; c < columns_.size(); ++c) x[columns_[c]] += change[c];
  }

  void refine_duals(const numeric::DenseFactors& factors, const std::vector<double>& scale,
                    std::vector<double>& y) const {
    std::vector<double> missed(columns_.size());
    for (std::size_t c = 0; c < columns_.size(); ++c) missed[c] = data_.cost[columns_[c]];
    for (const auto i : rows_)
      for_each(i, [&](std::size_t j, double a) {
        if (position_[j] >= 0) missed[static_cast<std::size_t>(position_[j])] -= a * y[i];
      });
    const auto change = factors.solve_transposed(missed);
    for (std::size_t k = 0; k < rows_.size(); ++k) y[rows_[k]] += change[k] / scale[k];
  }

  const LinearProgram& data_;
  const WarmStart& start_;
  std::vector<int> position_;  ///< of each column among the basic ones, or -1
  std::vector<std::size_t> columns_{};
  std::vector<std::size_t> rows_{};
};

/// Whether `value` lies clearly inside its bounds, to a size of `size`.
bool is_inside(double value, double lower, double upper, double size) {
  return value - lower > clearly * size && upper - value > clearly * size;
}

/// The bound that a nonbasic with this reduced cost is at; false when it may be at either.
bool stand(double reduced, double size, double lower, double upper, BasisStatus& standing) {
  if (lower == upper) {
    standing = BasisStatus::fixed;
    return true;
  }
  if (std::fabs(reduced) <= clearly * size) return false;
  const bool up = reduced < 0;
  if (std::isinf(up ? upper : lower)) return false;
  const bool was_up = standing == BasisStatus::at_upper;
  standing = up ? BasisStatus::at_upper : BasisStatus::at_lower;
  return up == was_up;
}

}  // namespace

bool find_basis_values(const LinearProgram& data, const WarmStart& start, BasisValues& values) {
  values.start = start;
  if (!Core(data, start).solve(values.x, values.y)) return false;
  auto& [x, y, standings] = values;
  const auto n = x.size();
  double mass = 0;
  double largest_cost = 0;
  for (const double v : x) mass = std::max(mass, std::fabs(v));
  for (const double c : data.cost) largest_cost = std::max(largest_cost, std::fabs(c));
  std::vector<double> reduced = data.cost;
  for (std::size_t i = 0; i < y.size(); ++i) {
    double activity = 0;
    double largest = 0;
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e) {
      const auto& [column, value] = data.entries[static_cast<std::size_t>(e)];
      const auto j = static_cast<std::size_t>(column);
      activity += value * x[j];
      largest = std::max(largest, std::fabs(value));
      reduced[j] -= value * y[i];
    }
    if (start[n + i] == BasisStatus::basic) {
      if (!is_inside(activity, data.row_lower[i], data.row_upper[i], largest * mass)) return false;
    } else if (!stand(y[i], largest > 0 ? largest_cost / largest : infinity, data.row_lower[i],
                      data.row_upper[i], standings[n + i])) {
      return false;
    }
  }
  for (std::size_t j = 0; j < n; ++j) {
    if (start[j] == BasisStatus::basic) {
      if (!is_inside(x[j], data.lower[j], data.upper[j], mass)) return false;
    } else if (!stand(reduced[j], largest_cost, data.lower[j], data.upper[j], standings[j])) {
      return false;
    }
    x[j] += 0.0;  // no minus zero
  }
  for (double& price : y) price += 0.0;
  return true;
}

}  // namespace leastwise::solver
