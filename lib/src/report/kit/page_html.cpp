#include <algorithm>

#include "report/kit/html_page.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/page.hpp"

namespace leastwise::report {
namespace {

constexpr std::string_view list_mark = "  - ";
/// A table with more columns becomes a list of its cells on a narrow screen.
constexpr std::size_t columns_of_narrow_screen = 3;

/// Cells no longer than this stay on one line, so that columns of numbers do not squeeze them.
constexpr std::size_t short_cell = 20;

bool is_short(const Table& table, std::size_t column) {
  return std::ranges::all_of(table.rows(),
                             [&](const auto& row) { return row[column].size() <= short_cell; });
}

/// What a cell of the column begins with, without its heading.
std::string_view cell_of(const Table& table, std::size_t column) {
  if (table.holds_numbers(column)) return "<td class=\"n\"";
  return is_short(table, column) ? "<td class=\"s\"" : "<td";
}

void write_headings(HtmlPage& html, const Table& table, const std::vector<std::size_t>& shown) {
  html.raw("<thead><tr>");
  for (const std::size_t column : shown) {
    html.raw(table.holds_numbers(column) ? "<th scope=\"col\" class=\"n\">" : "<th scope=\"col\">");
    html.raw(escaped(table.heading(column))).raw("</th>");
  }
  html.raw("</tr></thead>\n");
}

void write_table(HtmlPage& html, const Table& table) {
  const std::vector<std::size_t> shown = table.columns_in_use();
  if (shown.empty()) return;
  html.raw(shown.size() > columns_of_narrow_screen ? "<table class=\"wide\">\n" : "<table>\n");
  write_headings(html, table, shown);
  std::vector<std::string_view> cells;
  for (const std::size_t column : shown) cells.push_back(cell_of(table, column));
  html.raw("<tbody>\n");
  for (const auto& row : table.rows()) {
    html.raw("<tr>");
    for (std::size_t k = 0; k < shown.size(); ++k) {
      const std::size_t column = shown[k];
      html.raw(cells[k]);
      html.raw(" data-h=\"").raw(escaped(table.heading(column))).raw("\">");
      html.raw(escaped(row[column])).raw("</td>");
    }
    html.raw("</tr>\n");
  }
  html.close_table();
}

void write_figure(HtmlPage& html, const Picture& picture, const Table& table) {
  html.raw(picture.bars ? "<figure class=\"bars\">\n" : "<figure>\n");
  html.element("figcaption", picture.title);
  html.raw(inline_svg(picture));
  write_table(html, table);
  html.raw("</figure>\n");
}

/// A mark that is not a dash is words: `corners: `.
void write_item(HtmlPage& html, const Page::Block& block) {
  const std::string classes = block.warning ? "class=\"warn\"" : "";
  if (block.mark == list_mark) return void(html.element("li", block.words, classes));
  const std::size_t start = block.mark.find_first_not_of(' ');
  html.element("p",
               start == std::string::npos ? block.words : block.mark.substr(start) + block.words,
               classes);
}

void write_block(HtmlPage& html, const Page::Block& block) {
  switch (block.kind) {
    case Page::Kind::title:
      html.element("h1", block.words);
      return;
    case Page::Kind::heading:
      html.element("h2", block.words);
      return;
    case Page::Kind::paragraph:
    case Page::Kind::item:
      return write_item(html, block);
    case Page::Kind::table:
      return block.picture ? write_figure(html, *block.picture, block.table)
                           : write_table(html, block.table);
    case Page::Kind::blank:
      return;
  }
}

}  // namespace

std::string Page::html(Paper paper) const {
  std::string_view title = "leastwise";
  for (const Block& block : blocks_)
    if (block.kind == Kind::title) title = block.words;
  HtmlPage html(title, paper, report_style());
  html.raw("<main>\n");
  bool in_list = false;
  for (const Block& block : blocks_) {
    const bool listed = block.kind == Kind::item && block.mark == list_mark;
    if (listed != in_list) html.raw(listed ? "<ul>\n" : "</ul>\n");
    in_list = listed;
    write_block(html, block);
  }
  html.raw(in_list ? "</ul>\n</main>\n" : "</main>\n");
  return std::move(html).text();
}

}  // namespace leastwise::report
