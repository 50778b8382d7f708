#pragma once
#include <leastwise/risk.hpp>

#include <vector>

namespace leastwise::insight {

/// Mean, deviation and quantiles of `values`; zeros when there are none. A quantile is an order
/// statistic: nothing is interpolated.
[[nodiscard]] Spread spread_of(std::vector<double> values);

}  // namespace leastwise::insight
