#include "report/kit/table.hpp"

#include <algorithm>
#include <numeric>

#include "report/kit/layout.hpp"

namespace leastwise::report {
namespace {

constexpr std::size_t indent = 2;
constexpr std::size_t gap = 2;
constexpr std::size_t narrowest_words = 8;
constexpr std::size_t comfortable_words = 16;

/// A column as it will be printed: the heading (maybe empty), then one cell per row.
struct LaidOut {
  std::vector<std::string> cells{};
  std::size_t width = 0;
  bool numbers = false;
  std::size_t narrowest = 0;  ///< of numbers: the widest number, or word of the heading
  std::size_t longest_word = 0;
};

std::size_t longest_word(std::string_view text) {
  std::size_t longest = 0;
  for (std::size_t from = 0; from <= text.size();) {
    const std::size_t to = std::min(text.find(' ', from), text.size());
    longest = std::max(longest, columns_of(text.substr(from, to - from)));
    from = to + 1;
  }
  return longest;
}

bool is_number(std::string_view cell) {
  return !cell.empty() && cell.find_first_not_of("-0123456789.e+") == std::string_view::npos;
}

std::size_t columns_after_point(std::string_view cell) {
  const std::size_t point = cell.find('.');
  return point == std::string_view::npos ? 0 : cell.size() - point;
}

/// The heading of a column of numbers stands right above them, whatever the height of the row.
std::vector<std::string> heading_lines(const LaidOut& column, std::size_t height) {
  auto lines = wrapped(column.cells[0], column.width);
  if (lines.size() < height) lines.insert(lines.begin(), height - lines.size(), std::string{});
  return lines;
}

void append_row(std::vector<std::string>& lines, const std::vector<LaidOut>& columns,
                std::size_t row) {
  std::vector<std::vector<std::string>> cells;
  std::size_t height = 1;
  for (const LaidOut& column : columns) {
    cells.push_back(column.numbers && row > 0 ? std::vector{column.cells[row]}
                                              : wrapped(column.cells[row], column.width));
    height = std::max(height, cells.back().size());
  }
  if (row == 0 && height > 1)
    for (std::size_t i = 0; i < columns.size(); ++i) cells[i] = heading_lines(columns[i], height);
  for (std::size_t line = 0; line < height; ++line) {
    std::string text(indent, ' ');
    for (std::size_t i = 0; i < columns.size(); ++i) {
      const std::string cell = line < cells[i].size() ? cells[i][line] : std::string{};
      if (i > 0) text.append(gap, ' ');
      text += columns[i].numbers ? padded_left(cell, columns[i].width)
                                 : padded_right(cell, columns[i].width);
    }
    text.erase(text.find_last_not_of(' ') + 1);
    lines.push_back(std::move(text));
  }
}

std::size_t total_width(const std::vector<LaidOut>& columns) {
  return std::accumulate(columns.begin(), columns.end(), indent,
                         [](std::size_t sum, const LaidOut& c) { return sum + c.width; }) +
         gap * (columns.empty() ? 0 : columns.size() - 1);
}

/// Takes columns from the widest column of words until the table fits.
void shrink_words(std::vector<LaidOut>& columns, std::size_t width, std::size_t narrowest,
                  bool break_words) {
  while (total_width(columns) > width) {
    const auto room = [&](const LaidOut& column) {
      const std::size_t least = std::max(narrowest, break_words ? 0 : column.longest_word);
      return column.numbers || column.width <= least ? 0 : column.width;
    };
    const auto widest = std::ranges::max_element(columns, {}, room);
    if (widest == columns.end() || room(*widest) == 0) return;
    --widest->width;
  }
}

/// Breaks the headings of numbers that are wider than the numbers until the table fits.
void break_headings(std::vector<LaidOut>& columns, std::size_t width) {
  const auto spare = [](const LaidOut& column) {
    return column.numbers ? column.width - column.narrowest : 0;
  };
  while (total_width(columns) > width) {
    const auto widest = std::ranges::max_element(columns, {}, spare);
    if (widest == columns.end() || spare(*widest) == 0) return;
    --widest->width;
  }
}

/// First where no word is broken by that, then where it must be.
void shrink(std::vector<LaidOut>& columns, std::size_t width) {
  shrink_words(columns, width, comfortable_words, false);
  break_headings(columns, width);
  shrink_words(columns, width, narrowest_words, false);
  shrink_words(columns, width, narrowest_words, true);
}

/// The columns side by side, or what does not fit below the rest, the first column repeated.
void append_rows(std::vector<std::string>& lines, std::vector<LaidOut> columns, std::size_t width,
                 std::size_t first_row) {
  const std::vector<LaidOut> whole = columns;
  shrink(columns, width);
  std::size_t fitting = columns.size();
  while (fitting > 2 && total_width(columns) > width) {
    columns.assign(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(--fitting));
    shrink(columns, width);
  }
  for (std::size_t row = first_row; row < whole.front().cells.size(); ++row)
    append_row(lines, columns, row);
  if (fitting == whole.size()) return;
  lines.emplace_back();
  std::vector<LaidOut> rest{whole.front()};
  rest.insert(rest.end(), whole.begin() + static_cast<std::ptrdiff_t>(fitting), whole.end());
  append_rows(lines, std::move(rest), width, first_row);
}

}  // namespace

void Table::add_words(std::string heading) { columns_.push_back({std::move(heading), false}); }

void Table::add_numbers(std::string heading) { columns_.push_back({std::move(heading), true}); }

void Table::add_row(std::vector<std::string> cells) {
  cells.resize(columns_.size());
  for (std::string& cell : cells) cell = printable(cell);
  rows_.push_back(std::move(cells));
}

bool Table::empty(std::size_t column) const {
  return std::ranges::all_of(rows_, [&](const auto& row) { return row[column].empty(); });
}

std::vector<std::size_t> Table::columns_in_use() const {
  std::vector<std::size_t> columns;
  for (std::size_t i = 0; i < columns_.size(); ++i)
    if (!empty(i)) columns.push_back(i);
  return columns;
}

std::vector<std::string> Table::laid_out(std::size_t column) const {
  std::vector<std::string> cells{columns_[column].heading};
  std::size_t decimals = 0;
  for (const auto& row : rows_) {
    if (is_number(row[column])) decimals = std::max(decimals, columns_after_point(row[column]));
  }
  for (const auto& row : rows_) {
    std::string cell = row[column];
    if (columns_[column].numbers && is_number(cell)) {
      cell.append(decimals - columns_after_point(cell), ' ');
    }
    cells.push_back(std::move(cell));
  }
  return cells;
}

std::vector<std::string> Table::lines(std::size_t width) const {
  std::vector<LaidOut> columns;
  bool headings = false;
  for (const std::size_t i : columns_in_use()) {
    LaidOut column{laid_out(i), 0, columns_[i].numbers, 0};
    for (const std::string& cell : column.cells) {
      column.width = std::max(column.width, columns_of(cell));
      if (&cell != &column.cells.front())
        column.narrowest = std::max(column.narrowest, columns_of(cell));
      column.longest_word = std::max(column.longest_word, longest_word(cell));
    }
    column.narrowest = std::max(column.narrowest, longest_word(column.cells.front()));
    headings = headings || !columns_[i].heading.empty();
    columns.push_back(std::move(column));
  }
  std::vector<std::string> lines;
  if (!columns.empty()) append_rows(lines, std::move(columns), width, headings ? 0 : 1);
  return lines;
}

}  // namespace leastwise::report
