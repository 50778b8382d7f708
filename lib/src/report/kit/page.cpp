#include "report/kit/page.hpp"

#include <algorithm>

#include "report/kit/layout.hpp"

namespace leastwise::report {
namespace {

constexpr std::string_view bold = "\x1b[1m";
constexpr std::string_view yellow = "\x1b[33m";
constexpr std::string_view plain = "\x1b[0m";
constexpr int narrowest_page = 40;

/// Lines of text, coloured where that is asked for.
class Lines {
 public:
  explicit Lines(const ReportOptions& options)
      : width_(static_cast<std::size_t>(std::max(options.width, narrowest_page))),
        colour_(options.colour) {}

  void write(const Page::Block& block);
  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  void line(std::string_view text, std::string_view ansi = {});
  void title(std::string_view text);
  void heading(std::string_view text);
  void hanging(std::string_view mark, std::string_view text, std::string_view ansi);

  std::size_t width_ = 80;
  bool colour_ = false;
  std::string text_{};
};

void Lines::line(std::string_view text, std::string_view ansi) {
  const bool coloured = colour_ && !ansi.empty() && !text.empty();
  if (coloured) text_ += ansi;
  text_ += printable(text);  // the one place where words of a scenario meet a terminal
  if (coloured) text_ += plain;
  text_ += '\n';
}

void Lines::title(std::string_view text) {
  std::size_t longest = 0;
  for (const std::string& part : wrapped(printable(text), width_)) {
    line(part, bold);
    longest = std::max(longest, columns_of(part));
  }
  line(std::string(longest, '='));
  line("");
}

/// Spaces within stay as they are where it fits.
void Lines::heading(std::string_view text) {
  if (columns_of(text) <= width_) return line(text, bold);
  for (const std::string& part : wrapped(text, width_)) line(part, bold);
}

void Lines::hanging(std::string_view mark, std::string_view text, std::string_view ansi) {
  const std::size_t indent = columns_of(mark);
  std::string lead(mark);
  for (const std::string& part : wrapped(printable(text), width_ - indent)) {
    line(lead + part, ansi);
    lead.assign(indent, ' ');
  }
}

void Lines::write(const Page::Block& block) {
  switch (block.kind) {
    case Page::Kind::title:
      return title(block.words);
    case Page::Kind::heading:
      line("");
      return heading(printable(block.words));
    case Page::Kind::paragraph:
    case Page::Kind::item:
      return hanging(block.mark, block.words, block.warning ? yellow : std::string_view{});
    case Page::Kind::table:
      for (const std::string& row : block.table.lines(width_)) line(row);
      return;
    case Page::Kind::blank:
      return line("");
  }
}

}  // namespace

Page::Block& Page::add(Kind kind, std::string_view words) {
  Block& block = blocks_.emplace_back();
  block.kind = kind;
  block.words = words;
  return block;
}

void Page::title(std::string_view text) { add(Kind::title, text); }

void Page::heading(std::string_view text) { add(Kind::heading, text); }

void Page::paragraph(std::string_view text) { add(Kind::paragraph, text); }

void Page::warning(std::string_view text) { add(Kind::paragraph, text).warning = true; }

void Page::item(std::string_view mark, std::string_view text) { add(Kind::item, text).mark = mark; }

void Page::warning_item(std::string_view mark, std::string_view text) {
  item(mark, text);
  blocks_.back().warning = true;
}

void Page::table(const Table& table) { add(Kind::table).table = table; }

void Page::illustrated(Picture picture, const Table& table) {
  add(Kind::table).table = table;
  if (in_html()) blocks_.back().picture = std::move(picture);
}

void Page::blank() { add(Kind::blank); }

std::string Page::text(const ReportOptions& options) const {
  Lines lines(options);
  for (const Block& block : blocks_) lines.write(block);
  return std::move(lines).text();
}

}  // namespace leastwise::report
