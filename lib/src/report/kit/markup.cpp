#include "report/kit/markup.hpp"

#include <cstdint>

#include "report/kit/layout.hpp"

namespace leastwise::report {
namespace {

/// A code point and how many bytes it takes; 0 bytes: what stands there is no UTF-8.
struct CodePoint {
  std::uint32_t value = 0;
  std::size_t bytes = 0;
};

/// How many bytes a code point takes that begins with `byte`; 0: none does.
std::size_t length_after(unsigned char byte) {
  if (byte < 0x80U) return 1;
  if (byte < 0xC2U || byte > 0xF4U) return 0;
  return byte < 0xE0U ? 2 : byte < 0xF0U ? 3 : 4;
}

bool may_stand_in_a_page(std::uint32_t value) {
  const bool surrogate = value >= 0xD800U && value <= 0xDFFFU;
  return !surrogate && value != 0xFFFEU && value != 0xFFFFU && value <= 0x10FFFFU;
}

CodePoint code_point(std::string_view text) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(text[k]); };
  const std::size_t length = length_after(byte(0));
  if (length == 0 || length > text.size()) return {};
  if (length == 1) return {byte(0), 1};
  std::uint32_t value = byte(0) & (0xFFU >> (length + 1));
  for (std::size_t k = 1; k < length; ++k) {
    if ((byte(k) & 0xC0U) != 0x80U) return {};
    value = (value << 6U) | (byte(k) & 0x3FU);
  }
  const bool overlong = (length == 3 && value < 0x800U) || (length == 4 && value < 0x10000U);
  if (overlong || !may_stand_in_a_page(value)) return {};
  return {value, length};
}

std::string_view entity(char sign) {
  switch (sign) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    case '\'':
      return "&#39;";
    default:
      return {};
  }
}

}  // namespace

std::string escaped(std::string_view text) {
  constexpr std::string_view replacement = "\xEF\xBF\xBD";
  const std::string harmless = printable(text);
  std::string result;
  for (std::size_t at = 0; at < harmless.size();) {
    const std::string_view rest = std::string_view(harmless).substr(at);
    const CodePoint point = code_point(rest);
    if (point.bytes == 0) {
      result += replacement;
      ++at;
      continue;
    }
    const std::string_view name = point.bytes == 1 ? entity(rest.front()) : std::string_view{};
    result += name.empty() ? rest.substr(0, point.bytes) : name;
    at += point.bytes;
  }
  return result;
}

}  // namespace leastwise::report
