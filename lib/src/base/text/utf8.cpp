#include "base/text/utf8.hpp"

namespace leastwise::text {
namespace {

unsigned char utf8_byte(std::string_view text, std::size_t i) {
  return i < text.size() ? static_cast<unsigned char>(text[i]) : 0;
}

}  // namespace

std::size_t sequence_length(std::string_view text, std::size_t i) {
  const unsigned char first = utf8_byte(text, i);
  if (first < 0x80U) return 1;
  std::size_t length = 0;
  unsigned char low = 0x80U;
  unsigned char high = 0xBFU;
  if (first >= 0xC2U && first <= 0xDFU) length = 2;
  if (first >= 0xE0U && first <= 0xEFU) length = 3;
  if (first >= 0xF0U && first <= 0xF4U) length = 4;
  if (length == 0) return 0;
  if (first == 0xE0U) low = 0xA0U;   // no longer form of a shorter character
  if (first == 0xEDU) high = 0x9FU;  // no surrogates
  if (first == 0xF0U) low = 0x90U;
  if (first == 0xF4U) high = 0x8FU;  // nothing beyond U+10FFFF
  for (std::size_t k = 1; k < length; ++k) {
    const unsigned char next = utf8_byte(text, i + k);
    if (next < low || next > high) return 0;
    low = 0x80U;
    high = 0xBFU;
  }
  return length;
}

bool is_utf8(std::string_view text) {
  std::size_t i = 0;
  while (i < text.size()) {
    const std::size_t length = sequence_length(text, i);
    if (length == 0) return false;
    i += length;
  }
  return true;
}

}  // namespace leastwise::text
