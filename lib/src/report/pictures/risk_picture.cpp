#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/drawing/frame.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/pictures/pictures.hpp"

namespace leastwise::report {
namespace {

constexpr double panel_height = 180;
constexpr int about_so_many_classes = 20;

/// Draws counted by classes of cost, the same classes for both ways to act.
struct Classes {
  double from = 0;
  double width = 1;
  std::vector<long> fixed{};
  std::vector<long> reoptimised{};

  [[nodiscard]] double edge(std::size_t k) const { return from + static_cast<double>(k) * width; }
  [[nodiscard]] double end() const { return edge(fixed.size()); }
};

Classes classes_of(const PriceRisk& risk) {
  const double least = std::min(risk.fixed.least, risk.reoptimised.least);
  const double most = std::max(risk.fixed.most, risk.reoptimised.most);
  const Scale range = widened(least, most, 0);
  Classes classes;
  classes.width = ticks_between(range.from, range.to, about_so_many_classes).step;
  classes.from = std::floor(range.from / classes.width) * classes.width;
  const auto class_of = [&](double cost) {
    return static_cast<std::size_t>(
        std::max(0.0, std::floor((cost - classes.from) / classes.width)));
  };
  classes.fixed.assign(class_of(range.to) + 1, 0);
  classes.reoptimised = classes.fixed;
  const std::size_t last = classes.fixed.size() - 1;
  for (const RiskDraw& draw : risk.each) {
    ++classes.fixed[std::min(last, class_of(draw.fixed_cost))];
    ++classes.reoptimised[std::min(last, class_of(draw.reoptimised_cost))];
  }
  return classes;
}

double percent_of_draws(long count, const PriceRisk& risk) {
  return risk.each.empty()
             ? 0
             : 100.0 * static_cast<double>(count) / static_cast<double>(risk.each.size());
}

void draw_quantile(Canvas& canvas, const Frame& frame, double cost, const char* name,
                   const char* side) {
  const double x = frame.at(cost, 0).x;
  canvas.line({x, frame.ceiling() + 14}, {x, frame.floor()}, "limit");
  const double aside = std::string_view(side).empty()    ? 3
                       : std::string_view(side) == "end" ? -3
                                                         : 0;
  canvas.text(x + aside, frame.ceiling() + 10, name, std::string("halo ") + side);
}

double draw_panel(Canvas& canvas, const PriceRisk& risk, const Classes& classes,
                  const std::vector<long>& counts, const Spread& spread, const std::string& name,
                  double most_percent, double top) {
  const Frame frame(
      canvas, {classes.from, classes.end(), cost_heading(risk.currency, risk.basis, risk.units)},
      {0, most_percent, name + ": % of the draws"}, top, panel_height);
  const double floor = frame.floor();
  for (std::size_t k = 0; k < counts.size(); ++k) {
    const Point corner = frame.at(classes.edge(k), percent_of_draws(counts[k], risk));
    const double right = frame.at(classes.edge(k + 1), 0).x;
    if (counts[k] > 0)
      canvas.rectangle(corner.x + 0.5, corner.y, right - corner.x - 1, floor - corner.y, "pale");
  }
  frame.mark_now(canvas, *risk.cost_today, "");
  draw_quantile(canvas, frame, spread.percent_5, "5 %", "end");
  draw_quantile(canvas, frame, spread.percent_50, "50 %", "middle");
  draw_quantile(canvas, frame, spread.percent_95, "95 %", "");
  return frame.bottom();
}

std::string quantile_words(const char* name, const Spread& spread) {
  return fmt::format(
      "{}: at least 5 of 100 draws cost at most {}, at least half at most {}, at least 95 of 100 "
      "at most {}.",
      name, money_text(spread.percent_5), money_text(spread.percent_50),
      money_text(spread.percent_95));
}

}  // namespace

Table risk_table(const PriceRisk& risk) {
  const Classes classes = classes_of(risk);
  Table table;
  table.add_numbers(cost_heading(risk.currency, risk.basis, risk.units) + " from");
  table.add_numbers("to");
  table.add_numbers("today's recipe, % of draws");
  table.add_numbers("cheapest each time, % of draws");
  for (std::size_t k = 0; k < classes.fixed.size(); ++k)
    table.add_row({plain_text(classes.edge(k)), plain_text(classes.edge(k + 1)),
                   share_text(percent_of_draws(classes.fixed[k], risk)),
                   share_text(percent_of_draws(classes.reoptimised[k], risk))});
  return table;
}

Picture risk_picture(const PriceRisk& risk) {
  const std::string title = "Cost over the drawn prices";
  if (risk.each.empty()) return ending_picture(title, risk.outcome);
  const Classes classes = classes_of(risk);
  double most = 0;
  for (const auto* counts : {&classes.fixed, &classes.reoptimised})
    for (const long count : *counts) most = std::max(most, percent_of_draws(count, risk));
  Canvas canvas;
  double y =
      draw_panel(canvas, risk, classes, classes.fixed, risk.fixed, "Today's recipe", 1.3 * most, 0);
  y = draw_panel(canvas, risk, classes, classes.reoptimised, risk.reoptimised,
                 "Cheapest recipe each time", 1.3 * most, y + 8);
  canvas.line({4, y + 8}, {30, y + 8}, "now");
  canvas.text(36, y + 12, "cost at today's prices", "quiet");
  canvas.line({17, y + 18}, {17, y + 32}, "limit");
  canvas.text(36, y + 29, "at least 5, 50, 95 of 100 draws cost at most so much", "quiet");
  return {title,
          quantile_words("Today's recipe", risk.fixed) + " " +
              quantile_words("Cheapest each time", risk.reoptimised),
          y + 36, std::move(canvas).body()};
}

}  // namespace leastwise::report
