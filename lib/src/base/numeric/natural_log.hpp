#pragma once
#include <bit>
#include <cstdint>

namespace leastwise {

/// ln 2 in two parts, the first so short that its multiples are exact.
inline constexpr double ln2_high = 0x1.62e42fefap-1;
inline constexpr double ln2_low = 0x1.cf79abc9e3b3ap-40;

/// The natural logarithm of a number above zero (and not subnormal), within two units of the last
/// place.
///
/// Unlike the one of the C library, which picks its instructions by the processor, it gives the
/// same digits on all; without branches, so that a loop does several at once.
[[nodiscard]] inline double natural_log(double x) {
  // x = 2^k m with m from the square root of a half to that of two.
  constexpr std::uint64_t root_half = 0x3fe6a09e667f3bcdULL;
  constexpr std::uint64_t exponents = 0x7ffULL << 52U;
  constexpr std::uint64_t above_zero = 1024;  // added, so that the shift needs no sign
  constexpr double whole = 0x1p52;            // its last bits hold a whole number
  const auto bits = std::bit_cast<std::uint64_t>(x);
  const std::uint64_t apart = bits - root_half + (above_zero << 52U);
  const auto doublings =
      std::bit_cast<double>((apart >> 52U) | std::bit_cast<std::uint64_t>(whole)) -
      (whole + static_cast<double>(above_zero));
  const auto m = std::bit_cast<double>(bits - ((apart & exponents) - (above_zero << 52U)));
  // log m = 2 artanh s: the series, cut where the rest is below 1e-18.
  const double s = (m - 1) / (m + 1);
  const double z = s * s;
  double sum = 1.0 / 23;
  sum = sum * z + 1.0 / 21;
  sum = sum * z + 1.0 / 19;
  sum = sum * z + 1.0 / 17;
  sum = sum * z + 1.0 / 15;
  sum = sum * z + 1.0 / 13;
  sum = sum * z + 1.0 / 11;
  sum = sum * z + 1.0 / 9;
  sum = sum * z + 1.0 / 7;
  sum = sum * z + 1.0 / 5;
  sum = sum * z + 1.0 / 3;
  return doublings * ln2_high + (2 * s + (doublings * ln2_low + 2 * s * z * sum));
}

/// The natural logarithm of 1 + x for x >= 0, accurate for small x too (Kahan's correction for the
/// rounding of the sum).
[[nodiscard]] inline double natural_log_of_one_plus(double x) {
  const double sum = 1 + x;
  return sum == 1 ? x : natural_log(sum) * (x / (sum - 1));
}

}  // namespace leastwise
