#include "base/numeric/risk_exponential.hpp"

#include <bit>
#include <cstddef>
#include <cstdint>

#include "base/numeric/natural_log.hpp"
#include "base/numeric/wide_loops.hpp"

namespace leastwise::numeric {
namespace {

/// e^r for |r| <= ln(2) / 2: the Taylor series, cut where the rest is below 1e-17.
double near_zero(double r) {
  double sum = 1.0 / 6227020800.0;
  sum = sum * r + 1.0 / 479001600.0;
  sum = sum * r + 1.0 / 39916800.0;
  sum = sum * r + 1.0 / 3628800.0;
  sum = sum * r + 1.0 / 362880.0;
  sum = sum * r + 1.0 / 40320.0;
  sum = sum * r + 1.0 / 5040.0;
  sum = sum * r + 1.0 / 720.0;
  sum = sum * r + 1.0 / 120.0;
  sum = sum * r + 1.0 / 24.0;
  sum = sum * r + 1.0 / 6.0;
  sum = sum * r + 0.5;
  sum = sum * r + 1.0;
  return sum * r + 1.0;
}

LEASTWISE_WIDE_LOOPS void replace_by_exponentials(std::span<double> x) {
  constexpr double whole = 0x1.8p52;  // adding it leaves a whole number in the last bits
  constexpr double per_ln2 = 1.4426950408889634074;
  constexpr int exponent = 52;
  double* const values = x.data();
  const std::size_t n = x.size();
  for (std::size_t k = 0; k < n; ++k) {
    const double shifted = values[k] * per_ln2 + whole;
    const double doublings = shifted - whole;
    const double rest = (values[k] - doublings * ln2_high) - doublings * ln2_low;
    const auto bits = std::bit_cast<std::uint64_t>(near_zero(rest));
    values[k] = std::bit_cast<double>(bits + (std::bit_cast<std::uint64_t>(shifted) << exponent));
  }
}

}  // namespace

void exponentials(std::span<double> x) { replace_by_exponentials(x); }

}  // namespace leastwise::numeric
