#pragma once
#include <leastwise/risk.hpp>

#include <vector>

namespace leastwise::analysis {

/// Mean, deviation and quantiles of `values`; zeros when there are none. A quantile is an order
/// statistic: nothing is interpolated.
[[nodiscard]] Spread spread_of(std::vector<double> values);

/// Fills the spreads of `risk` from its draws, on at most so many threads.
void fill_spreads(PriceRisk& risk, unsigned threads);

}  // namespace leastwise::analysis
