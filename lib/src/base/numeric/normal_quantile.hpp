#pragma once
#include <span>

namespace leastwise {

/// The standard normal quantile: the z below which lies a share `p` of all values, 0 < p < 1.
///
/// Algorithm AS 241, PPND16 (Wichura 1988, Applied Statistics 37, 477-484): relative accuracy
/// about 1e-16. The coefficients are the published ones.
[[nodiscard]] double normal_quantile(double p);

/// The same for many at once: each p is replaced by its quantile.
void normal_quantiles(std::span<double> p);

/// The share of values below `z`.
[[nodiscard]] double normal_share_below(double z);

}  // namespace leastwise
