#include "exact/exact_units.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "base/unit_factors.hpp"
#include "exact/decimal.hpp"

namespace leastwise::exact {
namespace {

/// `value` at 15 significant digits: as many as every decimal keeps through a double and back.
double rounded_to_digits(double value) {
  constexpr int digits = 15;
  std::array<char, 40> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value,
                                 std::chars_format::scientific, digits - 1)
                       .ptr;
  double rounded = value;
  std::from_chars(text.data(), end, rounded);
  return rounded;
}

}  // namespace

Rational stated(double value, Measure measure, Units units) {
  if (units == Units::metric || value == 0) return decimal(value);
  constexpr double last_places = 1e-15;
  const double written = rounded_to_digits(from_metric(value, measure, units));
  if (std::fabs(to_metric(written, measure, units) - value) > last_places * std::fabs(value))
    return decimal(value);
  const auto [above, below] = us_factor(measure);
  return decimal(written) * decimal(above) / decimal(below);
}

}  // namespace leastwise::exact
