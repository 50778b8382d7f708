#include "report/kit/numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>

namespace leastwise::report {
namespace {

std::string without_negative_zero(std::string text) {
  if (text.starts_with('-') && text.find_first_of("123456789") == std::string::npos)
    text.erase(0, 1);
  return text;
}

std::string fixed(double number, int decimals) {
  constexpr double too_long_for_a_column = 1e9;
  if (!(std::abs(number) < too_long_for_a_column)) return fmt::format("{:.6g}", number);
  return without_negative_zero(fmt::format("{:.{}f}", number, decimals));
}

/// Decimals that show three significant digits of a number below 1.
int small_decimals(double magnitude) {
  return 2 - static_cast<int>(std::floor(std::log10(magnitude)));
}

}  // namespace

std::string amount_text(double amount) {
  const double magnitude = std::abs(amount);
  if (magnitude < 1e-12) return "0";
  if (magnitude < 1e-5) return fmt::format("{:.3g}", amount);
  if (magnitude < 1) return fixed(amount, small_decimals(magnitude));
  return fixed(amount, magnitude < 100 ? 2 : 1);
}

std::string money_text(double sum) { return fixed(sum, 2); }

std::string price_text(double price) {
  const double magnitude = std::abs(price);
  if (magnitude < 1e-12) return "0.00";
  if (magnitude < 1e-5) return fmt::format("{:.3g}", price);
  if (magnitude < 1) return fixed(price, small_decimals(magnitude));
  return fixed(price, 2);
}

std::string share_text(double percent) { return fixed(percent, 1); }

std::string plain_text(double number, int digits) {
  if (std::abs(number) < 1e-12) return "0";
  std::string text = fmt::format("{:.{}g}", number, digits);
  const double size = std::abs(number);
  if (text.find('e') == std::string::npos || size >= 1e15) return without_negative_zero(text);
  if (size >= 1) return fmt::format("{:.0f}", number);
  text =
      fmt::format("{:.{}f}", number, digits - 1 - static_cast<int>(std::floor(std::log10(size))));
  text.erase(text.find_last_not_of('0') + 1);
  return text;
}

double rounded_down(double number) {
  if (number == 0 || !std::isfinite(number)) return number;
  constexpr int digits = 5;
  constexpr double noise = 1e-4;  // in units of the last digit kept: 60.00000001 is 60
  const int decimals = digits - 1 - static_cast<int>(std::floor(std::log10(std::abs(number))));
  const double scale = std::pow(10.0, decimals);
  return std::floor(number * scale + noise) / scale;
}

double rounded_up(double number) { return -rounded_down(-number); }

std::string bound_text(double relative_error) {
  int exponent = -9;
  while (exponent < 0 && relative_error > std::pow(10.0, exponent)) ++exponent;
  return fmt::format("1e{}", exponent);
}

std::string_view currency_words(std::string_view currency) {
  return currency.empty() ? std::string_view("money") : currency;
}

std::string cost_text(double cost, std::string_view currency, std::string_view basis) {
  return fmt::format("{} {}/{}", money_text(cost), currency_words(currency), basis);
}

std::string counted(long count, std::string_view what) {
  return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

std::optional<double> rounded(double number) {
  if (!std::isfinite(number)) return std::nullopt;
  const std::string text = fmt::format("{:.12g}", number);
  double parsed = 0;
  std::from_chars(text.data(), text.data() + text.size(), parsed);
  return parsed == 0 ? 0.0 : parsed;
}

}  // namespace leastwise::report
