#include "input/yaml/number.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <system_error>

#include "base/text/wording.hpp"

namespace leastwise {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

std::size_t skip_digits(std::string_view text, std::size_t i) {
  while (i < text.size() && is_digit(text[i])) ++i;
  return i;
}

/// How many characters at the start of `text` make a decimal number; 0 when none do.
std::size_t number_length(std::string_view text) {
  std::size_t i = !text.empty() && (text[0] == '+' || text[0] == '-') ? 1 : 0;
  const std::size_t whole = skip_digits(text, i);
  std::size_t digits = whole - i;
  i = whole;
  if (i < text.size() && text[i] == '.') {
    const std::size_t end = skip_digits(text, i + 1);
    digits += end - i - 1;
    i = end;
  }
  if (digits == 0) return 0;
  if (i < text.size() && (text[i] == 'e' || text[i] == 'E')) {
    std::size_t k = i + 1;
    if (k < text.size() && (text[k] == '+' || text[k] == '-')) ++k;
    const std::size_t end = skip_digits(text, k);
    if (end > k) i = end;
  }
  return i;
}

/// What stands behind the `e` of a number; beyond all reason where it has too many digits.
long long exponent_of(std::string_view text) {
  constexpr long long beyond_reason = 1'000'000'000'000;
  if (text.front() == '+') text.remove_prefix(1);
  long long value = 0;
  const auto result = std::from_chars(text.data(), text.data() + text.size(), value);
  const long long most = text.front() == '-' ? -beyond_reason : beyond_reason;
  return result.ec == std::errc() && std::abs(value) < beyond_reason ? value : most;
}

/// Whether a number is below 1 in size: the place of its first digit other than 0 decides.
bool is_below_one(std::string_view text) {
  const std::size_t e = text.find_first_of("eE");
  const std::string_view digits = text.substr(0, e);
  const std::size_t first = digits.find_first_of("123456789");
  if (first == std::string_view::npos) return true;
  const auto point = static_cast<long long>(std::min(digits.find('.'), digits.size()));
  const long long place = point - static_cast<long long>(first);  // 1: just before the point
  const long long exponent = e == std::string_view::npos ? 0 : exponent_of(text.substr(e + 1));
  return (place > 0 ? place - 1 : place) + exponent < 0;
}

std::optional<double> converted(std::string_view text) {
  if (text.empty() || number_length(text) != text.size()) return std::nullopt;
  if (text.front() == '+') text.remove_prefix(1);
  double value = 0;
  const auto result = std::from_chars(text.data(), text.data() + text.size(), value);
  if (result.ec == std::errc::result_out_of_range && is_below_one(text)) {
    return 0.0;  // nearer to 0 than any other number there is
  }
  if (result.ec != std::errc() || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string without(std::string_view text, std::string_view unwanted) {
  std::string rest;
  for (const char c : text) {
    if (unwanted.find(c) == std::string_view::npos) rest += c;
  }
  return rest;
}

std::string_view without_blanks(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

/// `1,234` may be a thousand or a fraction: only a person can tell.
bool is_ambiguous(std::string_view text, std::size_t comma) {
  return text.size() - comma - 1 == 3 && comma > 0 && comma <= 3 && text[0] != '0';
}

std::string advice_for(std::string_view text) {
  if (text.empty()) return {};
  if (number_length(text) == text.size()) return "it is too large";
  const auto commas = std::count(text.begin(), text.end(), ',');
  const std::size_t comma = text.find(',');
  if (commas == 1 && text.find('.') == std::string_view::npos) {
    std::string pointed(text);
    pointed[comma] = '.';
    if (converted(pointed)) {
      return is_ambiguous(text, comma) ? "write a point for decimals, and nothing between thousands"
                                       : "write " + pointed;
    }
  }
  if (text.find("0x") == 0 || text.find("0X") == 0) return "write it in decimal digits";
  const std::string closed = without(text, "_ '");
  if (closed.size() < text.size() && converted(closed)) return "write " + closed;
  const std::size_t length = number_length(text);
  const std::string_view number = text.substr(0, length);
  const std::string_view rest = without_blanks(text.substr(length));
  if (length > 0 && rest == "%") return "write " + std::string(number);
  const bool is_unit =
      length > 0 && rest.size() < text.size() - length + 1 && !rest.empty() &&
      std::all_of(rest.begin(), rest.end(), [](char c) { return is_letter(c) || c == '/'; });
  if (is_unit && text[length] == ' ') return "the unit is in the key; write " + std::string(number);
  return {};
}

}  // namespace

NumberText read_number(std::string_view text) {
  NumberText result;
  result.value = converted(text);
  if (!result.value) result.advice = advice_for(text);
  return result;
}

std::optional<int> read_whole_number(std::string_view text) {
  constexpr std::size_t most_digits = 9;
  const std::size_t sign = !text.empty() && (text[0] == '-' || text[0] == '+') ? 1 : 0;
  const std::size_t digits = text.size() - sign;
  if (digits == 0 || digits > most_digits || skip_digits(text, sign) != text.size()) {
    return std::nullopt;
  }
  int value = 0;
  for (std::size_t i = sign; i < text.size(); ++i) value = value * 10 + (text[i] - '0');
  return text[0] == '-' ? -value : value;
}

}  // namespace leastwise
