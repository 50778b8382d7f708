#include "exact/decimal.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdlib>

namespace leastwise::exact {
namespace {

/// A whole number without sign; nothing for other text.
std::optional<Integer> parse_digits(std::string_view text) {
  const bool digits =
      std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
  if (text.empty() || !digits || (text.size() > 1 && text.front() == '0')) return std::nullopt;
  return Integer(std::string(text));
}

}  // namespace

Integer power_of_ten(unsigned exponent) {
  return boost::multiprecision::pow(Integer(10), exponent);
}

Rational decimal(double value) {
  std::array<char, 40> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 std::chars_format::scientific)
                       .ptr;
  const std::string_view text(buffer.data(), static_cast<std::size_t>(end - buffer.data()));
  const std::size_t e = text.find('e');
  long long digits = 0;
  int exponent = std::atoi(std::string(text.substr(e + 1)).c_str());
  bool behind_point = false;
  for (const char c : text.substr(0, e)) {
    if (c == '.') behind_point = true;
    if (c < '0' || c > '9') continue;
    digits = digits * 10 + (c - '0');
    if (behind_point) --exponent;
  }
  if (text.front() == '-') digits = -digits;
  if (exponent >= 0) return Integer(digits) * power_of_ten(static_cast<unsigned>(exponent));
  return Rational(Integer(digits), power_of_ten(static_cast<unsigned>(-exponent)));
}

std::string to_text(const Rational& value) {
  const Integer below = denominator(value);
  const std::string above = Integer(numerator(value)).str();
  return below == 1 ? above : above + "/" + below.str();
}

std::optional<Rational> parse(std::string_view text) {
  if (text.size() > longest_fraction) return std::nullopt;
  const bool negative = !text.empty() && text.front() == '-';
  if (negative) text.remove_prefix(1);
  const std::size_t slash = text.find('/');
  auto above = parse_digits(text.substr(0, slash));
  if (!above || (negative && *above == 0)) return std::nullopt;
  if (negative) *above = -*above;
  if (slash == std::string_view::npos) return Rational(*above);
  const auto below = parse_digits(text.substr(slash + 1));
  if (!below || *below <= 1 || gcd(*above, *below) != 1) return std::nullopt;
  return Rational(*above, *below);
}

}  // namespace leastwise::exact
