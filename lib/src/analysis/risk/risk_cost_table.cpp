#include <algorithm>
#include <span>

#include "analysis/risk/risk_search.hpp"
#include "base/numeric/wide_loops.hpp"

namespace leastwise::analysis {
namespace {

/// Adds up what each of the first `sums.size()` blends costs. `amounts` go by column.
LEASTWISE_WIDE_LOOPS void add_up(const std::vector<std::size_t>& columns,
                                 const std::vector<std::vector<double>>& amounts,
                                 const std::vector<double>& cost, std::span<double> sums) {
  double* __restrict sum = sums.data();
  const std::size_t n = sums.size();
  std::fill(sum, sum + n, 0.0);
  for (const std::size_t j : columns) {
    const double* __restrict amount = amounts[j].data();
    const double c = cost[j];
    if (c == 0) continue;
    for (std::size_t k = 0; k < n; ++k) sum[k] += c * amount[k];
  }
}

}  // namespace

CostTable::CostTable(std::size_t columns, std::size_t capacity)
    : capacity_(capacity), amount_(columns), uses_(capacity, 0), costs_(capacity, 0.0) {}

std::size_t CostTable::add(const std::vector<double>& x) {
  std::size_t slot = size_;
  if (full()) {
    slot = static_cast<std::size_t>(std::min_element(uses_.begin(), uses_.end()) - uses_.begin());
    // What was of use long ago counts less and less.
    if (++added_ % capacity_ == 0)
      for (long& uses : uses_) uses /= 2;
  } else {
    ++size_;
  }
  uses_[slot] = 1;
  for (std::size_t j = 0; j < x.size(); ++j) {
    if (x[j] == 0 && amount_[j].empty()) continue;
    if (amount_[j].empty()) {
      amount_[j].assign(capacity_, 0.0);
      columns_used_.push_back(j);
    }
    amount_[j][slot] = x[j];
  }
  return slot;
}

std::size_t CostTable::cheapest(const std::vector<double>& cost) {
  if (size_ == 1) return 0;
  const std::span<double> sum(costs_.data(), size_);
  add_up(columns_used_, amount_, cost, sum);
  std::size_t best = 0;
  for (std::size_t k = 1; k < size_; ++k)
    if (sum[k] < sum[best]) best = k;
  return best;
}

}  // namespace leastwise::analysis
