#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::report {

/// A table of words and numbers that never grows wider than asked.
///
/// Columns of words wrap; columns of numbers stand with their decimal points under one another, and
/// their headings wrap where room is short. Columns that still find no room stand below the others.
/// A column in which every cell is empty is left out.
class Table {
 public:
  void add_words(std::string heading);
  void add_numbers(std::string heading);
  /// Appends a row; missing cells are empty.
  void add_row(std::vector<std::string> cells);

  /// The lines, indented by two spaces, without trailing spaces; the headings come first when
  /// there are any.
  [[nodiscard]] std::vector<std::string> lines(std::size_t width) const;

  /// The columns with at least one filled cell, in order.
  [[nodiscard]] std::vector<std::size_t> columns_in_use() const;
  [[nodiscard]] const std::string& heading(std::size_t column) const {
    return columns_[column].heading;
  }
  [[nodiscard]] bool holds_numbers(std::size_t column) const { return columns_[column].numbers; }
  [[nodiscard]] const std::vector<std::vector<std::string>>& rows() const { return rows_; }

 private:
  struct Column {
    std::string heading{};
    bool numbers = false;
  };
  [[nodiscard]] std::vector<std::string> laid_out(std::size_t column) const;
  [[nodiscard]] bool empty(std::size_t column) const;

  std::vector<Column> columns_{};
  std::vector<std::vector<std::string>> rows_{};
};

}  // namespace leastwise::report
