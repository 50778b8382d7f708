#include "report/drawing/bars.hpp"

#include <algorithm>

#include "report/drawing/canvas.hpp"
#include "report/drawing/scale.hpp"

namespace leastwise::report {
namespace {

constexpr double heading_height = 22;
constexpr double bar_line_height = 36;
constexpr double bar_edge = 2;

Scale scale_of(const std::vector<Bar>& bars) {
  Scale scale{0, 0, bar_edge, picture_width - bar_edge};
  for (const Bar& bar : bars)
    for (const auto& value : {bar.value, bar.second})
      if (value) {
        scale.from = std::min(scale.from, *value);
        scale.to = std::max(scale.to, *value);
      }
  if (scale.from == scale.to) scale.to = 1;
  return scale;
}

void draw_bar(Canvas& canvas, const Scale& scale, double value, double y, double height,
              std::string_view classes) {
  const double zero = scale.at(0);
  const double tip = scale.at(value);
  canvas.rectangle(std::min(zero, tip), y, std::abs(tip - zero), height, classes);
}

std::string description_of(const std::string& legend, const std::vector<Bar>& bars) {
  constexpr std::size_t most = 20;
  std::string text = legend + ".";
  for (std::size_t k = 0; k < std::min(most, bars.size()); ++k)
    text += (k == 0 ? " " : "; ") + bars[k].label + ": " + bars[k].words;
  if (bars.size() > most) text += "; and " + std::to_string(bars.size() - most) + " more";
  return bars.empty() ? text : text + ".";
}

}  // namespace

Picture bar_chart(std::string title, const std::string& legend, const std::vector<Bar>& bars) {
  Canvas canvas;
  const Scale scale = scale_of(bars);
  canvas.text(bar_edge, 12, fitted(legend, picture_width - 2 * bar_edge), "quiet");
  double y = heading_height;
  for (const Bar& bar : bars) {
    canvas.text(picture_width - bar_edge, y + 12, bar.words, "end");
    canvas.text(bar_edge, y + 12, fitted(bar.label, picture_width - 12 - width_of(bar.words)));
    const double height = bar.second ? 6 : 12;
    if (bar.value) draw_bar(canvas, scale, *bar.value, y + 17, height, "main");
    if (bar.second) draw_bar(canvas, scale, *bar.second, y + 24, height, "pale");
    canvas.line({scale.at(0), y + 15}, {scale.at(0), y + 32}, "axis");
    y += bar_line_height;
  }
  return {std::move(title), description_of(legend, bars), y + 4, std::move(canvas).body(), true};
}

}  // namespace leastwise::report
