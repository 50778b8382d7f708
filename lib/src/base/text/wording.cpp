#include "base/text/wording.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "base/text/harmless.hpp"

namespace leastwise {
namespace {

constexpr std::size_t longest_quote = 60;

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

}  // namespace

std::size_t code_points(std::string_view text) {
  std::size_t count = 0;
  for (const char c : text) count += continues(c) ? 0 : 1;
  return count;
}

std::string_view first_code_points(std::string_view text, std::size_t count) {
  std::size_t end = 0;
  while (end < text.size()) {
    if (!continues(text[end]) && count-- == 0) break;
    ++end;
  }
  return text.substr(0, end);
}

std::string printable(std::string_view text) {
  return leastwise::text::sanitize_for_terminal(text);
}

std::string in_quotes(std::string_view text) {
  const auto head = first_code_points(text, longest_quote);
  return "'" + printable(head) + (head.size() < text.size() ? "..." : "") + "'";
}

std::string number_text(double value) {
  std::array<char, 64> buffer{};
  const double size = std::abs(value);
  const bool plain = size == 0 || (size >= 1e-6 && size < 1e10);
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 plain ? std::chars_format::fixed : std::chars_format::scientific);
  return {buffer.data(), end.ptr};
}

std::string rounded_text(double value) {
  std::array<char, 64> buffer{};
  constexpr int digits = 6;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 std::chars_format::general, digits);
  return {buffer.data(), end.ptr};
}

std::string listed(const std::vector<std::string>& names, std::size_t most) {
  const std::size_t shown = names.size() > most ? most : names.size();
  std::string result;
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) result += (i + 1 == names.size()) ? " and " : ", ";
    result += in_quotes(names[i]);
  }
  if (shown < names.size()) result += " and " + std::to_string(names.size() - shown) + " more";
  return result;
}

}  // namespace leastwise
