#include <fmt/format.h>

#include <algorithm>

#include "report/drawing/frame.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/pictures/pictures.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

constexpr double height = 270;

std::string description_of(const LimitMap& map) {
  const auto first =
      std::ranges::find_if(map.points, [](const auto& p) { return p.cost.has_value(); });
  if (first == map.points.end()) return {};
  auto last = first;
  for (auto point = first; point != map.points.end(); ++point)
    if (point->cost) last = point;
  return fmt::format("{} From {} at {} to {} at {}. {}",
                     map.exact ? "A line with a dot wherever it bends."
                               : "A dot for each limit that was solved; nothing joins them.",
                     money_text(*first->cost), plain_text(first->limit), money_text(*last->cost),
                     limit_text(last->limit, map.unit),
                     fmt::format("{} points.", map.points.size()));
}

/// A cross on the lower axis: here is no blend.
void draw_cross(Canvas& canvas, Point at) {
  canvas.line({at.x - 4, at.y - 4}, {at.x + 4, at.y + 4}, "limit");
  canvas.line({at.x - 4, at.y + 4}, {at.x + 4, at.y - 4}, "limit");
}

Scale costs_of(const LimitMap& map) {
  double least = 0;
  double most = 0;
  bool any = false;
  for (const LimitPoint& point : map.points) {
    if (!point.cost) continue;
    least = any ? std::min(least, *point.cost) : *point.cost;
    most = any ? std::max(most, *point.cost) : *point.cost;
    any = true;
  }
  return widened(least, most, 0.1);
}

Picture no_blend_picture(const std::string& title, const LimitMap& map) {
  std::vector<std::string> sentences{no_blend_words(map)};
  for (const auto& rule : map.outcome.conflict->rules)
    sentences.push_back(rule_in_words(rule.id, rule.limit, rule.unit));
  return words_picture(title, sentences);
}

}  // namespace

std::string no_blend_words(const LimitMap& map) {
  const std::string range =
      fmt::format("{} to {}", plain_text(map.from), limit_text(map.to, map.unit));
  return fmt::format(
      "{} At {} these conflict:",
      map.points.size() > 2
          ? fmt::format("There is no blend at any of the {} limits of {} tried from {}.",
                        map.points.size(), map.rule, range)
          : fmt::format("There is no blend at any limit of {} from {}.", map.rule, range),
      limit_text(*map.conflict_at, map.unit));
}

Picture limit_map_picture(const LimitMap& map) {
  const std::string title = "Least cost over the limit of " + map.rule;
  if (map.outcome.conflict) return no_blend_picture(title, map);
  if (std::ranges::none_of(map.points, [](const auto& p) { return p.cost.has_value(); }))
    return ending_picture(title, map.outcome);
  Canvas canvas;
  const Scale up = costs_of(map);
  const Frame frame(
      canvas, {map.from, map.to, with_unit(map.rule, map.unit)},
      {up.from, up.to, "Least cost, " + cost_heading(map.currency, map.basis, map.units)}, 0,
      height);
  frame.mark_now(canvas, map.limit_now, "now");
  std::vector<Point> spots;
  bool gaps = false;
  for (const LimitPoint& point : map.points) {
    if (point.cost) {
      spots.push_back(frame.at(point.limit, *point.cost));
      continue;
    }
    draw_cross(canvas, frame.at(point.limit, up.from));
    gaps = true;
  }
  if (map.exact && spots.size() > 1) canvas.path_of(spots, "curve");
  for (const Point& spot : spots) canvas.dot(spot, map.exact ? 3.6 : 2.8, "mark");
  if (gaps)
    canvas.text(frame.left(), frame.bottom() + 10, "a cross: no blend at that limit", "quiet");
  return {title, description_of(map), frame.bottom() + (gaps ? 16 : 0), std::move(canvas).body()};
}

}  // namespace leastwise::report
