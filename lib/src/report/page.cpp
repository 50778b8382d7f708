#include "report/page.hpp"

#include <algorithm>

#include "report/layout.hpp"

namespace leastwise::report {
namespace {

constexpr std::string_view bold = "\x1b[1m";
constexpr std::string_view yellow = "\x1b[33m";
constexpr std::string_view plain = "\x1b[0m";
constexpr int narrowest_page = 40;

}  // namespace

Page::Page(const TextOptions& options)
    : width_(static_cast<std::size_t>(std::max(options.width, narrowest_page))),
      colour_(options.colour) {}

void Page::line(std::string_view text, std::string_view ansi) {
  const bool coloured = colour_ && !ansi.empty() && !text.empty();
  if (coloured) text_ += ansi;
  text_ += text;
  if (coloured) text_ += plain;
  text_ += '\n';
}

void Page::title(std::string_view text) {
  std::size_t longest = 0;
  for (const std::string& part : wrapped(printable(text), width_)) {
    line(part, bold);
    longest = std::max(longest, columns_of(part));
  }
  line(std::string(longest, '='));
  blank();
}

void Page::heading(std::string_view text) {
  blank();
  line(text, bold);
}

void Page::paragraph(std::string_view text) { hanging("", text, {}); }

void Page::warning(std::string_view text) { hanging("", text, yellow); }

void Page::item(std::string_view mark, std::string_view text) { hanging(mark, text, {}); }

void Page::warning_item(std::string_view mark, std::string_view text) {
  hanging(mark, text, yellow);
}

void Page::table(const Table& table) {
  for (const std::string& row : table.lines(width_)) line(row);
}

void Page::blank() { text_ += '\n'; }

void Page::hanging(std::string_view mark, std::string_view text, std::string_view ansi) {
  const std::size_t indent = columns_of(mark);
  std::string lead(mark);
  for (const std::string& part : wrapped(printable(text), width_ - indent)) {
    line(lead + part, ansi);
    lead.assign(indent, ' ');
  }
}

}  // namespace leastwise::report
