#include "report/drawing/tap_targets.hpp"

#include <algorithm>

#include "report/drawing/canvas.hpp"
#include "report/drawing/scale.hpp"

namespace leastwise::report {
namespace {

constexpr double legend_height = 26;
constexpr double target_height = 52;
constexpr double target_edge = 2;
constexpr double bar_at = 28;
constexpr double bar_height = 11;

/// A triangle under the bar that points up, or over it that points down.
void draw_arrow(Canvas& canvas, Point tip, double height) {
  canvas.polygon({tip, {tip.x - 5, tip.y + height}, {tip.x + 5, tip.y + height}}, "mark");
}

void draw_target_legend(Canvas& canvas) {
  draw_arrow(canvas, {8, 5}, 7);
  canvas.text(17, 13, "at least", "quiet");
  draw_arrow(canvas, {84, 12}, -7);
  canvas.text(93, 13, "at most", "quiet");
  canvas.rectangle(152, 4, 14, 9, "zone");
  canvas.text(170, 13, "allowed", "quiet");
  canvas.rectangle(228, 4, 14, 9, "main");
  canvas.text(246, 13, "supplied (pale: not counted)", "quiet");
}

double largest(const Target& target) {
  double most = std::max(target.value, target.there.value_or(0));
  if (target.asked.has_min()) most = std::max(most, target.asked.min);
  if (target.asked.has_max()) most = std::max(most, target.asked.max);
  return most > 0 ? most : 1;
}

void draw_target(Canvas& canvas, const Target& target, double y) {
  const Scale scale{0, 1.1 * largest(target), target_edge, picture_width - target_edge};
  const double from = scale.at(target.asked.has_min() ? std::max(0.0, target.asked.min) : 0);
  const double to = target.asked.has_max() ? scale.at(target.asked.max) : scale.end;
  const double bar = y + bar_at;
  canvas.text(target_edge, y + 12,
              fitted(target.label, picture_width - 12 - width_of(target.words)), "strong");
  canvas.text(picture_width - target_edge, y + 12, target.words, "end");
  canvas.rectangle(from, bar - 3, std::max(1.0, to - from), bar_height + 6, "zone");
  if (target.there)
    canvas.rectangle(target_edge, bar, scale.at(*target.there) - target_edge, bar_height, "pale");
  canvas.rectangle(target_edge, bar, scale.at(target.value) - target_edge, bar_height, "main");
  canvas.line({target_edge, bar - 3}, {target_edge, bar + bar_height + 3}, "axis");
  if (target.asked.has_min()) {
    canvas.line({from, bar - 3}, {from, bar + bar_height + 3}, "limit");
    draw_arrow(canvas, {from, bar + bar_height + 3}, 7);
  }
  if (target.asked.has_max()) {
    canvas.line({to, bar - 3}, {to, bar + bar_height + 3}, "limit");
    draw_arrow(canvas, {to, bar - 3}, -7);
  }
}

}  // namespace

Picture target_chart(std::string title, const std::vector<Target>& targets) {
  Canvas canvas;
  draw_target_legend(canvas);
  Picture picture{std::move(title), {}, legend_height, {}, true};
  for (const Target& target : targets) {
    draw_target(canvas, target, picture.height);
    picture.height += target_height;
    picture.description +=
        (picture.description.empty() ? "" : "; ") + target.label + ": " + target.words;
  }
  if (!picture.description.empty()) picture.description += ".";
  picture.body = std::move(canvas).body();
  return picture;
}

}  // namespace leastwise::report
