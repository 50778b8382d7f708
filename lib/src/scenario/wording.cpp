#include "scenario/wording.hpp"

#include <array>
#include <charconv>
#include <cmath>

#include "scenario/utf8.hpp"

namespace leastwise {
namespace {

constexpr std::size_t longest_quote = 60;

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U; }

/// Control characters, line separators, and what reverses the direction of the text behind it.
/// `character` is one in UTF-8.
bool steers(std::string_view character) {
  const auto at = [&](std::size_t i) { return static_cast<unsigned char>(character[i]); };
  if (character.size() == 1) return at(0) < 0x20U || at(0) == 0x7FU;
  // U+0080 to U+009F are control characters too; terminals obey some of them.
  if (character.size() == 2) return at(0) == 0xC2U && at(1) < 0xA0U;
  if (character.size() != 3 || at(0) != 0xE2U) return false;
  return (at(1) == 0x80U && at(2) >= 0xA8U && at(2) <= 0xAEU) ||  // U+2028 to U+202E
         (at(1) == 0x81U && at(2) >= 0xA6U && at(2) <= 0xA9U);    // U+2066 to U+2069
}

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
  constexpr std::string_view replacement = "\xEF\xBF\xBD";
  std::string result;
  result.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const std::size_t length = sequence_length(text, i);
    const std::string_view character = text.substr(i, length);
    result += length == 0 ? replacement : steers(character) ? " " : character;
    i += length == 0 ? 1 : length;
  }
  return result;
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
  return std::string(buffer.data(), end.ptr);
}

std::string rounded_text(double value) {
  std::array<char, 64> buffer{};
  constexpr int digits = 6;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 std::chars_format::general, digits);
  return std::string(buffer.data(), end.ptr);
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
