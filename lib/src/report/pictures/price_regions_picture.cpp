#include <fmt/format.h>

#include <cmath>

#include "report/drawing/frame.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/pictures/pictures.hpp"

namespace leastwise::report {
namespace {

constexpr double plane_height = 360;
constexpr std::size_t fills = 8;
constexpr std::size_t longest_legend = 16;

std::string fill_of(std::size_t k) { return fmt::format("r{}", k % fills); }

/// The centre of gravity: inside, since regions are convex.
Point middle_of(const std::vector<Point>& corners) {
  double area = 0;
  Point sum;
  for (std::size_t k = 0; k < corners.size(); ++k) {
    const Point& a = corners[k];
    const Point& b = corners[(k + 1) % corners.size()];
    const double cross =
        (a.x - corners[0].x) * (b.y - corners[0].y) - (b.x - corners[0].x) * (a.y - corners[0].y);
    area += cross;
    sum.x += cross * (a.x + b.x + corners[0].x);
    sum.y += cross * (a.y + b.y + corners[0].y);
  }
  if (std::abs(area) < 1e-9) return corners.front();
  return {sum.x / (3 * area), sum.y / (3 * area)};
}

void draw_regions(Canvas& canvas, const Frame& frame, const PriceRegions& map) {
  std::vector<Point> middles;
  for (std::size_t k = 0; k < map.regions.size(); ++k) {
    std::vector<Point> corners;
    for (const PricePoint& p : map.regions[k].polygon)
      corners.push_back(frame.at(p.first, p.second));
    canvas.polygon(corners, fill_of(k) + " edge");
    middles.push_back(middle_of(corners));
  }
  for (std::size_t k = 0; k < middles.size(); ++k)
    canvas.text(middles[k].x, middles[k].y + 4, std::to_string(k + 1), "strong middle halo");
}

void draw_now(Canvas& canvas, const Frame& frame, const PriceRegions& map) {
  const auto inside = [](double price, const Limits& range) {
    return price >= range.min && price <= range.max;
  };
  if (!inside(map.prices_now.first, map.first_range) ||
      !inside(map.prices_now.second, map.second_range))
    return;
  const Point now = frame.at(map.prices_now.first, map.prices_now.second);
  canvas.dot(now, 6, "paper edge");
  canvas.dot(now, 3, "mark");
  const bool room = now.x + 40 < frame.right();
  canvas.text(room ? now.x + 9 : now.x - 9, now.y + 4, "now",
              room ? "strong halo" : "strong halo end");
}

double draw_region_legend(Canvas& canvas, const PriceRegions& map, double y) {
  constexpr double line_height = 19;
  for (std::size_t k = 0; k < std::min(longest_legend, map.regions.size()); ++k) {
    y += line_height;
    canvas.rectangle(2, y - 11, 14, 12, fill_of(k) + " edge");
    canvas.text(34, y, std::to_string(k + 1), "strong end");
    const auto& recipe = map.regions[k].blend.portions;
    const std::string apart =
        k == 0 ? std::string() : told_apart(recipe, map.regions.front().blend.portions);
    const std::string words = apart.empty() ? fmt::format("{} {}", recipe_words(recipe),
                                                          unit_name(Measure::dose, map.units))
                                            : "as 1, " + apart;
    canvas.text(40, y,
                fitted(fmt::format("{} %: {}", share_text(map.regions[k].area_percent), words),
                       picture_width - 44));
  }
  if (map.regions.size() > longest_legend) {
    y += line_height;
    canvas.text(40, y, fmt::format("and {} more", map.regions.size() - longest_legend), "quiet");
  }
  return y + 6;
}

std::string description_of(const PriceRegions& map) {
  std::string text = fmt::format("{} regions.", map.regions.size());
  for (std::size_t k = 0; k < std::min(longest_legend, map.regions.size()); ++k)
    text += fmt::format(
        " Region {}, {} % of the prices: {} {}.", k + 1, share_text(map.regions[k].area_percent),
        recipe_words(map.regions[k].blend.portions), unit_name(Measure::dose, map.units));
  return text;
}

std::string corner_words(const PriceRegion& region) {
  std::string corners;
  for (const PricePoint& p : region.polygon)
    corners += fmt::format("{}({}, {})", corners.empty() ? "" : " ", money_text(p.first),
                           money_text(p.second));
  return corners;
}

}  // namespace

Table price_regions_table(const PriceRegions& map) {
  Table table;
  table.add_numbers("region");
  table.add_numbers("% of prices");
  table.add_numbers(map.first + " %");
  table.add_numbers(map.second + " %");
  table.add_words("recipe, " + std::string(unit_name(Measure::dose, map.units)));
  table.add_words("corners");
  for (std::size_t k = 0; k < map.regions.size(); ++k) {
    const PriceRegion& region = map.regions[k];
    table.add_row({std::to_string(k + 1), share_text(region.area_percent),
                   share_text(region.first_share_percent), share_text(region.second_share_percent),
                   recipe_words(region.blend.portions), corner_words(region)});
  }
  return table;
}

Picture price_regions_picture(const PriceRegions& map) {
  const std::string title =
      fmt::format("Cheapest recipe over the prices of {} and {}", map.first, map.second);
  if (map.regions.empty()) return ending_picture(title, map.outcome);
  Canvas canvas;
  const Frame frame(canvas,
                    {map.first_range.min, map.first_range.max,
                     price_heading(map.currency, map.units) + " of " + map.first},
                    {map.second_range.min, map.second_range.max,
                     price_heading(map.currency, map.units) + " of " + map.second},
                    0, plane_height);
  draw_regions(canvas, frame, map);
  draw_now(canvas, frame, map);
  const double bottom = draw_region_legend(canvas, map, frame.bottom());
  return {title, description_of(map), bottom, std::move(canvas).body()};
}

}  // namespace leastwise::report
