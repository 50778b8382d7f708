#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "report/kit/markup.hpp"
#include "report/trial/trial_tables.hpp"

namespace leastwise::report {
namespace {

// Of a sheet, in the wide letters of DejaVu Sans; letters of headings are smaller.
constexpr double paper_width_mm = 186;
constexpr double letter_mm = 2.2;
constexpr double heading_letter_mm = 1.95;
constexpr double cell_margin_mm = 2.6;
/// Words longer than this are broken; shorter ones stay whole.
constexpr std::size_t longest_word = 24;

/// The letters of the longest piece between any of `ends`.
std::size_t longest_piece(const std::string& text, std::string_view ends) {
  std::size_t longest = 0;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t to = std::min(text.find_first_of(ends, from), text.size());
    longest = std::max(longest, to - from);
    from = to + 1;
  }
  return longest;
}

/// What a column takes at the least; the first one, of codes, is never broken.
double width_mm(const Table& table, std::size_t column) {
  const bool whole = table.holds_numbers(column) || column == 0;
  std::size_t letters = 0;
  for (const auto& row : table.rows()) {
    if (column >= row.size()) continue;
    letters = std::max(letters, whole ? row[column].size()
                                      : std::min(longest_piece(row[column], " "), longest_word));
  }
  const auto heading = static_cast<double>(longest_piece(table.heading(column), " -/")) + 1;
  return std::max(static_cast<double>(letters) * letter_mm, heading * heading_letter_mm) +
         cell_margin_mm;
}

std::string_view class_of_cell(const Table& table, std::size_t column, const std::string& text) {
  if (table.holds_numbers(column)) return " class=\"n\"";
  if (column == 0) return " class=\"key\"";
  return longest_piece(text, " -") <= longest_word ? " class=\"solid\"" : "";
}

void write_columns(HtmlPage& page, const Table& table, const std::vector<std::size_t>& columns) {
  page.raw("<table>\n<thead><tr>");
  for (const auto c : columns) {
    page.raw(table.holds_numbers(c) ? "<th class=\"n solid\">" : "<th>");
    page.raw(escaped(table.heading(c))).raw("</th>");
  }
  page.raw("</tr></thead>\n<tbody>\n");
  for (const auto& row : table.rows()) {
    page.raw("<tr>");
    for (const auto c : columns) {
      const std::string text = c < row.size() ? row[c] : std::string();
      page.raw("<td").raw(class_of_cell(table, c, text)).raw(">");
      page.raw(escaped(text)).raw("</td>");
    }
    page.raw("</tr>\n");
  }
  page.raw("</tbody>\n</table>\n");
}

}  // namespace

void write_sheet_table(HtmlPage& page, const Table& table) {
  const auto columns = table.columns_in_use();
  std::size_t next = 1;
  while (next < columns.size()) {
    std::vector<std::size_t> part{columns.front()};
    double wide = width_mm(table, columns.front());
    for (; next < columns.size(); ++next) {
      wide += width_mm(table, columns[next]);
      if (wide > paper_width_mm && part.size() > 1) break;
      part.push_back(columns[next]);
    }
    write_columns(page, table, part);
  }
}

}  // namespace leastwise::report
