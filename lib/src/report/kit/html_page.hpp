#pragma once
#include <leastwise/render.hpp>

#include <initializer_list>
#include <span>
#include <string>
#include <string_view>

namespace leastwise::report {

/// How the sheets of a trial look: black on white, to be printed and written on.
[[nodiscard]] std::string_view sheet_style();
/// How reports look: light or dark as the reader prefers, always light on paper.
[[nodiscard]] std::string_view report_style();

/// A page that needs nothing but itself: no font, no picture, no script from elsewhere.
class HtmlPage {
 public:
  /// `policy` is what the page may do, as a content security policy; empty: nothing is said.
  HtmlPage(std::string_view title, Paper paper, std::string_view style,
           std::string_view policy = {});

  /// `markup` is taken as it stands.
  HtmlPage& raw(std::string_view markup);
  /// `<tag>text</tag>`; `attributes` may hold a class.
  HtmlPage& element(std::string_view tag, std::string_view text, std::string_view attributes = {});
  /// Opens and closes a part that starts on a new sheet; `attributes` are markup.
  void open_sheet(std::string_view css_class, std::string_view attributes = {});
  void close_sheet();
  /// A heading with a list below it.
  void section(std::string_view heading, std::span<const std::string> lines);
  /// A list with a box to tick before each item.
  void open_ticks();
  void tick(std::string_view text, std::string_view css_class = {});
  void close_ticks();
  void open_table(std::string_view css_class, std::initializer_list<std::string_view> headings);
  void close_table();

  [[nodiscard]] std::string text() &&;

 private:
  std::string text_{};
};

}  // namespace leastwise::report
