#include "base/text/harmless.hpp"

#include "base/text/utf8.hpp"

namespace leastwise::text {
namespace {

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

std::string sanitize_for_terminal(std::string_view text) {
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

}  // namespace leastwise::text
