#include <fmt/format.h>

#include <algorithm>

#include "report/drawing/frame.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/pictures/pictures.hpp"

namespace leastwise::report {
namespace {

constexpr double cost_height = 210;
constexpr double share_height = 150;
/// A number fits into a stretch this wide.
constexpr double room_for_number = 18;

std::string description_of(const PriceMap& map) {
  constexpr std::size_t most = 12;
  std::string text =
      fmt::format("{} recipes over the price of {}.", map.bands.size(), map.material);
  for (std::size_t k = 0; k < std::min(most, map.bands.size()); ++k) {
    const PriceBand& band = map.bands[k];
    text += fmt::format(" From {} to {}: cost {} to {}, share {} %.", money_text(band.from),
                        money_text(band.to), money_text(band.cost_from), money_text(band.cost_to),
                        share_text(band.share_percent));
  }
  if (map.bands.size() > most)
    text += fmt::format(" {} more recipes follow.", map.bands.size() - most);
  return text;
}

/// The cost, a dot where the recipe changes, and the number of each recipe.
Frame draw_cost(Canvas& canvas, const PriceMap& map) {
  double least = map.bands.front().cost_from;
  double most = least;
  for (const PriceBand& band : map.bands)
    for (const double cost : {band.cost_from, band.cost_to}) {
      least = std::min(least, cost);
      most = std::max(most, cost);
    }
  const Scale up = widened(least, most, 0.14);
  Frame frame(canvas,
              {map.from, map.to, price_heading(map.currency, map.units) + " of " + map.material},
              {up.from, up.to, "Least cost, " + cost_heading(map.currency, map.basis, map.units)},
              0, cost_height);
  std::vector<Point> curve{frame.at(map.bands.front().from, map.bands.front().cost_from)};
  for (const PriceBand& band : map.bands) curve.push_back(frame.at(band.to, band.cost_to));
  frame.mark_now(canvas, map.price_now, "now");
  canvas.path_of(curve, "curve");
  for (std::size_t k = 1; k + 1 < curve.size(); ++k) canvas.dot(curve[k], 3.6, "mark");
  return frame;
}

/// A step for each recipe, numbered from left to right.
double draw_shares(Canvas& canvas, const PriceMap& map, double top) {
  double most = 0;
  for (const PriceBand& band : map.bands) most = std::max(most, band.share_percent);
  const Frame frame(
      canvas, {map.from, map.to, price_heading(map.currency, map.units) + " of " + map.material},
      {0, most > 0 ? 1.25 * most : 1,
       "Share of " + map.material + " in recipes 1 to " + std::to_string(map.bands.size()) + ", %"},
      top, share_height);
  std::vector<Point> steps;
  for (const PriceBand& band : map.bands) {
    steps.push_back(frame.at(band.from, band.share_percent));
    steps.push_back(frame.at(band.to, band.share_percent));
  }
  frame.mark_now(canvas, map.price_now, "");
  canvas.path_of(steps, "curve");
  for (std::size_t k = 0; 2 * k + 1 < steps.size(); ++k) {
    if (steps[2 * k + 1].x - steps[2 * k].x < room_for_number) continue;
    canvas.text((steps[2 * k].x + steps[2 * k + 1].x) / 2, steps[2 * k].y - 6,
                std::to_string(k + 1), "strong middle halo");
  }
  return frame.bottom();
}

}  // namespace

Picture price_map_picture(const PriceMap& map) {
  if (map.bands.empty()) return ending_picture("Price map of " + map.material, map.outcome);
  Canvas canvas;
  const Frame cost = draw_cost(canvas, map);
  const double bottom = draw_shares(canvas, map, cost.bottom() + 8);
  return {fmt::format("Least cost and recipe over the price of {}", map.material),
          description_of(map), bottom, std::move(canvas).body()};
}

}  // namespace leastwise::report
