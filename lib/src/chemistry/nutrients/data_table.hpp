#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/text/csv.hpp"

namespace leastwise {

/// A built-in table: a header, and rows that all have a field for every column.
///
/// Throws: std::logic_error, with file name and line, for anything unexpected in the embedded text.
/// That is our own fault and cannot happen in a library whose tests passed: they read every row.
class Table {
 public:
  Table(std::string_view file_name, std::string_view text);

  [[nodiscard]] std::size_t size() const { return rows_.size(); }
  [[nodiscard]] const std::string& text(std::size_t row, std::string_view column) const;
  /// A field that must hold a finite number.
  [[nodiscard]] double number(std::size_t row, std::string_view column) const;
  /// A field that holds a finite number or nothing.
  [[nodiscard]] std::optional<double> optional_number(std::size_t row,
                                                      std::string_view column) const;
  /// A field that must hold `yes` or `no`.
  [[nodiscard]] bool flag(std::size_t row, std::string_view column) const;
  /// Where a row's facts come from: the column `source`, marked when recalled rather than read.
  [[nodiscard]] std::string source(std::size_t row) const;

  /// For readers of the table that find a field wrong.
  [[noreturn]] void reject(std::size_t row, std::string_view column, std::string_view why) const;

 private:
  [[nodiscard]] const CsvField& field(std::size_t row, std::string_view column) const;

  std::string file_name_;
  std::vector<std::string> columns_{};
  std::vector<CsvRow> rows_{};
};

/// The number that `text` spells from its first to its last character; nothing for any other text,
/// infinities and not-a-numbers.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);

}  // namespace leastwise
