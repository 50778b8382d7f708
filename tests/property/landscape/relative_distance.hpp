#pragma once
#include <algorithm>
#include <cmath>

namespace leastwise::support {

/// How far `a` is from `b`, as a share of `b`, or as it is where `b` is small.
[[nodiscard]] inline double relative_distance(double a, double b) {
  return std::fabs(a - b) / std::max(1.0, std::fabs(b));
}

}  // namespace leastwise::support
