#include "report/drawing/scale.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace leastwise::report {
namespace {

/// The smallest of 1, 2, 5, 10 times a power of ten that is not below `width`.
double round_step(double width) {
  const double power = std::pow(10.0, std::floor(std::log10(width)));
  for (const double times : {1.0, 2.0, 5.0})
    if (times * power >= width * (1 - 1e-9)) return times * power;
  return 10 * power;
}

}  // namespace

std::string Ticks::text(double number) const {
  const int decimals = std::clamp(static_cast<int>(-std::floor(std::log10(step) + 1e-9)), 0, 12);
  std::string words = std::abs(number) < 1e9 ? fmt::format("{:.{}f}", number, decimals)
                                             : fmt::format("{:.6g}", number);
  if (words.starts_with('-') && words.find_first_of("123456789") == std::string::npos)
    words.erase(0, 1);
  return words;
}

Ticks ticks_between(double from, double to, int about) {
  Ticks ticks;
  ticks.step = round_step((to - from) / std::max(1, about));
  const double slack = 1e-9 * (to - from);
  const double first = std::ceil((from - slack) / ticks.step);
  for (int k = 0; (first + k) * ticks.step <= to + slack; ++k)
    ticks.numbers.push_back((first + k) * ticks.step);
  return ticks;
}

Scale widened(double from, double to, double share) {
  const double width = to - from;
  const double size = std::max(std::abs(from), std::abs(to));
  // A range that is a point, but for noise, gets some room to stand in.
  const double more = width > 1e-9 * size ? share * width : std::max(0.05 * size, 1e-6);
  return {from - more, to + more, 0, 0};
}

}  // namespace leastwise::report
