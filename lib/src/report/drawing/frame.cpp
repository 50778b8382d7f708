#include "report/drawing/frame.hpp"

#include <algorithm>

#include "report/drawing/picture.hpp"

namespace leastwise::report {
namespace {

constexpr double letters_up = 16;   ///< a line of words
constexpr double beside = 5;        ///< between numbers and their axis
constexpr double right_edge = 14;   ///< beyond the end of the axis, if no number needs more
constexpr double ticks_apart = 26;  ///< upright
constexpr double narrowest_left = 24;

/// As many ticks as their numbers leave room for.
Ticks fitting_ticks(const Axis& across, double length) {
  constexpr double gap = 14;
  Ticks ticks;
  for (int about = 8; about > 1; --about) {
    ticks = ticks_between(across.from, across.to, about);
    double widest = 0;
    for (const double number : ticks.numbers)
      widest = std::max(widest, width_of_number(ticks.text(number)));
    const double apart = ticks.step / (across.to - across.from) * length;
    if (widest + gap <= apart) break;
  }
  return ticks;
}

/// Lays `across` between what the numbers beside the upright axis take and the right edge, so that
/// no number under it is cut off, wherever it stands.
Scale fitting_scale(const Axis& across, double left) {
  Scale scale{across.from, across.to, left, picture_width - right_edge};
  for (int round = 0; round < 3; ++round) {  // a narrower axis may have other numbers
    const Ticks ticks = fitting_ticks(across, scale.end - scale.start);
    double over_left = 0;
    double over_right = 0;
    for (const double number : ticks.numbers) {
      const double half = width_of_number(ticks.text(number)) / 2 + 2;
      over_left = std::max(over_left, half - scale.at(number));
      over_right = std::max(over_right, scale.at(number) + half - picture_width);
    }
    if (over_left == 0 && over_right == 0) break;
    scale.start += over_left;
    scale.end -= over_right;
  }
  return scale;
}

}  // namespace

Frame::Frame(Canvas& canvas, const Axis& across, const Axis& up, double top, double height) {
  y_ = {up.from, up.to, top + height - 2 * letters_up - 4, top + letters_up + 8};
  const Ticks up_ticks =
      ticks_between(up.from, up.to, static_cast<int>((y_.start - y_.end) / ticks_apart));
  double widest = narrowest_left;
  for (const double number : up_ticks.numbers)
    widest = std::max(widest, width_of_number(up_ticks.text(number)));
  x_ = fitting_scale(across, widest + 2 * beside);
  const Ticks across_ticks = fitting_ticks(across, x_.end - x_.start);
  canvas.text(2, top + 12, fitted(up.name, picture_width - 4), "quiet");
  for (const double number : up_ticks.numbers) {
    canvas.line({x_.start, y_.at(number)}, {x_.end, y_.at(number)}, "grid");
    canvas.text(x_.start - beside, y_.at(number) + 4, up_ticks.text(number), "end");
  }
  for (const double number : across_ticks.numbers) {
    canvas.line({x_.at(number), y_.start}, {x_.at(number), y_.start + 4}, "axis");
    canvas.text(x_.at(number), y_.start + letters_up, across_ticks.text(number), "middle");
  }
  canvas.path_of({{x_.start, y_.end}, {x_.start, y_.start}, {x_.end, y_.start}}, "axis");
  canvas.text(x_.end, y_.start + 2 * letters_up, fitted(across.name, x_.end - x_.start),
              "quiet end");
  bottom_ = top + height + 4;
}

void Frame::mark_now(Canvas& canvas, double across, const std::string& name) const {
  if (across < x_.from || across > x_.to) return;
  const double x = x_.at(across);
  canvas.line({x, name.empty() ? y_.end + 14 : y_.end}, {x, y_.start}, "now");
  const bool room_right = x + 6 + width_of(name) < x_.end;
  canvas.text(room_right ? x + 5 : x - 5, y_.end + 10, name, room_right ? "halo" : "halo end");
}

}  // namespace leastwise::report
