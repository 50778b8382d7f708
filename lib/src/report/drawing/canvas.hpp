#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::report {

/// A point of a drawing; y runs downwards.
struct Point {
  double x = 0;
  double y = 0;
};

/// `number` with at most two decimals, whatever the locale; never `-0`.
[[nodiscard]] std::string coordinate(double number);

/// About how wide `text` is drawn.
[[nodiscard]] double width_of(std::string_view text);

/// How wide the digits of `number` are drawn at most, in the widest common sans-serif fonts as
/// well: a word cut short is guessed, a number is not.
[[nodiscard]] double width_of_number(std::string_view number);

/// `text`, cut with an ellipsis where it would be drawn wider than `width`.
[[nodiscard]] std::string fitted(std::string_view text, double width);

/// Where drawings are made of a few shapes; classes say how each looks.
class Canvas {
 public:
  void rectangle(double x, double y, double width, double height, std::string_view classes);
  void line(Point from, Point to, std::string_view classes);
  void path_of(const std::vector<Point>& spots, std::string_view classes);
  void polygon(const std::vector<Point>& spots, std::string_view classes);
  void dot(Point at, double radius, std::string_view classes);
  /// `y` is the line the letters stand on.
  void text(double x, double y, std::string_view words, std::string_view classes = {});

  [[nodiscard]] std::string body() && { return std::move(body_); }

 private:
  void shape(std::string_view name, const std::vector<Point>& spots, std::string_view classes);

  std::string body_{};
};

}  // namespace leastwise::report
