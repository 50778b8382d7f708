#include "analysis/risk/risk_summary.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "base/in_parallel.hpp"

namespace leastwise::analysis {
namespace {

/// Where the least value stands that at least `percent` of all do not exceed, once they are sorted.
std::ptrdiff_t rank_of(std::size_t count, std::size_t percent) {
  return static_cast<std::ptrdiff_t>(std::max<std::size_t>((count * percent + 99) / 100, 1) - 1);
}

/// Leaves `values` in another order.
Spread spread_within(std::span<double> values) {
  Spread spread;
  if (values.empty()) return spread;
  const auto n = static_cast<double>(values.size());
  double sum = 0;
  for (const double v : values) sum += v - values.front();
  spread.mean = values.front() + sum / n;
  double squares = 0;
  for (const double v : values) squares += (v - spread.mean) * (v - spread.mean);
  if (values.size() > 1) spread.standard_deviation = std::sqrt(squares / (n - 1));
  spread.standard_error = spread.standard_deviation / std::sqrt(n);
  const auto [least, most] = std::minmax_element(values.begin(), values.end());
  spread.least = *least;
  spread.most = *most;
  const auto low = values.begin() + rank_of(values.size(), 5);
  const auto middle = values.begin() + rank_of(values.size(), 50);
  const auto high = values.begin() + rank_of(values.size(), 95);
  // Each takes its place among those that the ones before it left unsorted, and moves none of them.
  std::nth_element(values.begin(), low, values.end());
  if (high > low) std::nth_element(low + 1, high, values.end());
  if (middle > low && middle < high) std::nth_element(low + 1, middle, high);
  spread.percent_5 = *low;
  spread.percent_50 = *middle;
  spread.percent_95 = *high;
  return spread;
}

}  // namespace

Spread spread_of(std::vector<double> values) { return spread_within(values); }

void fill_spreads(PriceRisk& risk, unsigned threads) {
  constexpr std::size_t worth_a_thread = 4096;
  struct Quantity {
    Spread* spread;
    double (*value)(const RiskDraw&);
  };
  const std::array<Quantity, 3> quantities{{
      {&risk.fixed, [](const RiskDraw& draw) { return draw.fixed_cost; }},
      {&risk.reoptimised, [](const RiskDraw& draw) { return draw.reoptimised_cost; }},
      {&risk.flexibility,
       [](const RiskDraw& draw) { return draw.fixed_cost - draw.reoptimised_cost; }},
  }};
  base::in_parallel(quantities.size(), risk.each.size() >= worth_a_thread ? threads : 1,
                    [&](std::size_t k) {
                      std::vector<double> values(risk.each.size());
                      std::ranges::transform(risk.each, values.begin(), quantities[k].value);
                      *quantities[k].spread = spread_within(values);
                    });
}

}  // namespace leastwise::analysis
