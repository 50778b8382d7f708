#pragma once
#include <leastwise/render.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "report/drawing/picture.hpp"
#include "report/kit/table.hpp"

namespace leastwise::report {

/// What a page is written for.
enum class Medium { text, html };

/// A page of a report, written from top to bottom: plain text within a width, or HTML.
class Page {
 public:
  explicit Page(Medium medium = Medium::text) : medium_(medium) {}

  /// Pictures, and what only they need, are for HTML.
  [[nodiscard]] bool in_html() const { return medium_ == Medium::html; }

  /// The title; underlined in text.
  void title(std::string_view text);
  /// A section heading.
  void heading(std::string_view text);
  void paragraph(std::string_view text);
  /// The same, in the colour of warnings.
  void warning(std::string_view text);
  /// A paragraph that hangs under `mark`: `mark` starts its first line, spaces the others. In HTML
  /// a dash makes it an item of a list.
  void item(std::string_view mark, std::string_view text);
  void warning_item(std::string_view mark, std::string_view text);
  void table(const Table& table);
  /// A table; in HTML under a picture that says the same.
  void illustrated(Picture picture, const Table& table);
  void blank();

  [[nodiscard]] std::string text(const ReportOptions& options) const;
  [[nodiscard]] std::string html(Paper paper) const;

  enum class Kind { title, heading, paragraph, item, table, blank };

  /// One thing on the page.
  struct Block {
    Kind kind = Kind::blank;
    std::string mark{};
    std::string words{};
    bool warning = false;
    Table table{};
    std::optional<Picture> picture{};
  };

 private:
  Block& add(Kind kind, std::string_view words = {});

  Medium medium_;
  std::vector<Block> blocks_{};
};

}  // namespace leastwise::report
