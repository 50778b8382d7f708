#include "report/drawing/canvas.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"

namespace leastwise::report {
namespace {

constexpr double letter_height = 12.5;
/// Mean width of letters and digits of common sans-serif fonts, with a little to spare.
constexpr double letter_width = 0.55 * letter_height;
/// Digits of Verdana and DejaVu Sans are 0.636 of the height wide.
constexpr double widest_digit = 0.64 * letter_height;

std::string class_attribute(std::string_view classes) {
  return classes.empty() ? std::string() : fmt::format(" class=\"{}\"", classes);
}

}  // namespace

std::string coordinate(double number) {
  std::string text = fmt::format("{:.2f}", number);
  text.erase(text.find_last_not_of('0') + 1);
  if (text.ends_with('.')) text.pop_back();
  return text == "-0" ? "0" : text;
}

double width_of(std::string_view text) {
  return static_cast<double>(columns_of(text)) * letter_width;
}

double width_of_number(std::string_view number) {
  return static_cast<double>(columns_of(number)) * widest_digit;
}

std::string fitted(std::string_view text, double width) {
  std::string line = printable(text);
  if (width_of(line) <= width) return line;
  const auto letters = static_cast<std::size_t>(std::max(0.0, width / letter_width));
  return wrapped(line, letters > 2 ? letters - 1 : 1).front() + "…";
}

void Canvas::rectangle(double x, double y, double width, double height, std::string_view classes) {
  body_ +=
      fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>\n", coordinate(x),
                  coordinate(y), coordinate(width), coordinate(height), class_attribute(classes));
}

void Canvas::line(Point from, Point to, std::string_view classes) {
  body_ +=
      fmt::format("<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"{}/>\n", coordinate(from.x),
                  coordinate(from.y), coordinate(to.x), coordinate(to.y), class_attribute(classes));
}

void Canvas::shape(std::string_view name, const std::vector<Point>& spots,
                   std::string_view classes) {
  body_ += fmt::format("<{} points=\"", name);
  for (const Point& spot : spots) {
    if (&spot != &spots.front()) body_ += ' ';
    body_ += coordinate(spot.x) + "," + coordinate(spot.y);
  }
  body_ += fmt::format("\"{}/>\n", class_attribute(classes));
}

void Canvas::path_of(const std::vector<Point>& spots, std::string_view classes) {
  shape("polyline", spots, classes);
}

void Canvas::polygon(const std::vector<Point>& spots, std::string_view classes) {
  shape("polygon", spots, classes);
}

void Canvas::dot(Point at, double radius, std::string_view classes) {
  body_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>\n", coordinate(at.x),
                       coordinate(at.y), coordinate(radius), class_attribute(classes));
}

void Canvas::text(double x, double y, std::string_view words, std::string_view classes) {
  body_ += fmt::format("<text x=\"{}\" y=\"{}\"{}>{}</text>\n", coordinate(x), coordinate(y),
                       class_attribute(classes), escaped(words));
}

}  // namespace leastwise::report
