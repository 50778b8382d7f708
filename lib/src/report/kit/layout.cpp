#include "report/kit/layout.hpp"

#include <algorithm>

#include "base/text/harmless.hpp"

namespace leastwise::report {
namespace {

bool continues_code_point(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) == 0x80U; }

/// Bytes of the first `columns` code points of `text`.
std::size_t bytes_of(std::string_view text, std::size_t columns) {
  std::size_t seen = 0;
  for (std::size_t at = 0; at < text.size(); ++at) {
    if (!continues_code_point(text[at]) && seen++ == columns) return at;
  }
  return text.size();
}

std::vector<std::string_view> words_of(std::string_view text) {
  std::vector<std::string_view> words;
  std::size_t at = 0;
  while ((at = text.find_first_not_of(' ', at)) != std::string_view::npos) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    words.push_back(text.substr(at, end - at));
    at = end;
  }
  return words;
}

}  // namespace

std::size_t columns_of(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(
      text.begin(), text.end(), [](char byte) { return !continues_code_point(byte); }));
}

std::string printable(std::string_view text) {
  return leastwise::text::sanitize_for_terminal(text);
}

std::string capitalised(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') {
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
  }
  return text;
}

std::string with_full_stop(std::string text) {
  constexpr std::string_view marks = ".!?:";
  if (!text.empty() && marks.find(text.back()) == std::string_view::npos) text += '.';
  return text;
}

std::vector<std::string> wrapped(std::string_view text, std::size_t width) {
  width = std::max<std::size_t>(width, 1);
  std::vector<std::string> lines(1);
  std::size_t used = 0;
  for (std::string_view word : words_of(text)) {
    if (used > 0 && used + 1 + columns_of(word) > width) {
      lines.emplace_back();
      used = 0;
    }
    while (columns_of(word) > width) {
      const std::size_t cut = bytes_of(word, width);
      lines.back() = word.substr(0, cut);
      lines.emplace_back();
      word.remove_prefix(cut);
    }
    if (used > 0) lines.back().push_back(' ');
    lines.back().append(word);
    used = columns_of(lines.back());
  }
  return lines;
}

std::string padded_right(std::string_view text, std::size_t width) {
  const std::size_t columns = columns_of(text);
  return std::string(text) + std::string(width > columns ? width - columns : 0, ' ');
}

std::string padded_left(std::string_view text, std::size_t width) {
  const std::size_t columns = columns_of(text);
  return std::string(width > columns ? width - columns : 0, ' ') + std::string(text);
}

}  // namespace leastwise::report
