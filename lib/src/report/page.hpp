#pragma once
#include <leastwise/report.hpp>

#include <string>
#include <string_view>

#include "report/table.hpp"

namespace leastwise::report {

/// A page of plain text that is written from top to bottom and keeps within its width.
class Page {
 public:
  explicit Page(const TextOptions& options);

  /// The title, underlined.
  void title(std::string_view text);
  /// A section heading with a blank line before it.
  void heading(std::string_view text);
  void paragraph(std::string_view text);
  /// The same, in the colour of warnings.
  void warning(std::string_view text);
  /// A paragraph that hangs under `mark`: `mark` starts its first line, spaces the others.
  void item(std::string_view mark, std::string_view text);
  void warning_item(std::string_view mark, std::string_view text);
  void table(const Table& table);
  void blank();

  [[nodiscard]] std::string text() && { return std::move(text_); }

 private:
  void hanging(std::string_view mark, std::string_view text, std::string_view ansi);
  void line(std::string_view text, std::string_view ansi = {});

  std::size_t width_ = 80;
  bool colour_ = false;
  std::string text_{};
};

}  // namespace leastwise::report
