#include <leastwise/limit_map.hpp>

#include <fmt/format.h>

#include "report/landscape_cells.hpp"
#include "report/numbers.hpp"
#include "report/pictures/pictures.hpp"
#include "report/rule_words.hpp"
#include "report/sections.hpp"

namespace leastwise {
namespace {

using namespace report;

void write_points(Page& page, const LimitMap& map) {
  Table table;
  table.add_numbers(map.unit.empty() ? "limit" : "limit, " + map.unit);
  table.add_numbers(cost_heading(map.currency, map.basis));
  table.add_numbers("one more costs");
  table.add_words("recipe, kg/t");
  for (const LimitPoint& point : map.points)
    table.add_row({plain_text(point.limit, 5), point.cost ? money_text(*point.cost) : "",
                   point.marginal_cost_after ? price_text(*point.marginal_cost_after) : "",
                   point.blend ? recipe_words(point.blend->portions) : "no blend"});
  page.illustrated(limit_map_picture(map), table);
}

std::string how_known(const LimitMap& map) {
  if (map.exact) return "Straight lines join the points, proved by convexity: none is missed.";
  return fmt::format(
      "Sampled: {}. Every point is a proved optimum; between the points nothing is claimed.",
      map.why_sampled);
}

Page page_of(const LimitMap& map, Medium medium) {
  Page page(medium);
  page.title(fmt::format("Cost of {}{}{}", map.rule, map.title.empty() ? "" : ": ", map.title));
  write_ending(page, map.ending);
  if (map.points.empty()) return without_goods(std::move(page));
  page.paragraph(fmt::format("The least cost while the limit of {} runs from {} to {}; it is {}.",
                             map.rule, limit_text(map.from, map.unit), limit_text(map.to, map.unit),
                             limit_text(map.limit_now, map.unit)));
  if (map.declared_now)
    page.paragraph(fmt::format(
        "These are limits with the tolerance taken off: the scenario declares {}. The tolerance "
        "differs from one declared figure to another.",
        limit_text(*map.declared_now, map.unit)));
  if (map.possible && (map.possible->min > map.from || map.possible->max < map.to))
    page.paragraph(fmt::format("Only from {} to {} is there a blend.",
                               limit_text(map.possible->min, map.unit),
                               limit_text(map.possible->max, map.unit)));
  page.paragraph(fmt::format("{} ({} solves)", how_known(map), map.solves));
  page.blank();
  write_points(page, map);
  for (const LimitPoint& point : map.points) {
    if (!point.blend) continue;
    write_notes(page, point.blend->notes);
    write_safety(page, point.blend->portions, point.blend->supply, point.blend->notes);
    break;
  }
  return page;
}

}  // namespace

std::string to_text(const LimitMap& map, const TextOptions& options) {
  return page_of(map, Medium::text).text(options);
}

std::string to_html(const LimitMap& map, Paper paper) {
  return page_of(map, Medium::html).html(paper);
}

std::string to_svg(const LimitMap& map) {
  const Picture picture = limit_map_picture(map);
  return svg_document({&picture, 1});
}

std::string to_json(const LimitMap& map) {
  Json json = json_head("limit_map", map.ending, map.title, map.currency, map.basis);
  json["rule"] = map.rule;
  json["unit"] = map.unit;
  json["from"] = json_number(map.from);
  json["to"] = json_number(map.to);
  json["limit_now"] = json_number(map.limit_now);
  json["declared_now"] = json_number(map.declared_now);
  json["possible"] = map.possible ? Json{{"from", json_number(map.possible->min)},
                                         {"to", json_number(map.possible->max)}}
                                  : Json(nullptr);
  json["exact"] = map.exact;
  json["why_sampled"] = map.exact ? Json(nullptr) : Json(map.why_sampled);
  Json points = Json::array();
  for (const LimitPoint& point : map.points)
    points.push_back({{"limit", json_number(point.limit)},
                      {"cost", json_number(point.cost)},
                      {"marginal_cost_after", json_number(point.marginal_cost_after)},
                      {"blend", point.blend ? json_blend(*point.blend) : Json(nullptr)}});
  json["points"] = points;
  json["solves"] = map.solves;
  add_ending(json, map.ending);
  return json_text(json);
}

std::string to_csv(const LimitMap& map) {
  std::string csv = "rule,exact,limit,cost,marginal_cost_after,recipe_kg_per_t\n";
  for (const LimitPoint& point : map.points)
    csv += csv_line({map.rule, map.exact ? "yes" : "no", csv_number(point.limit),
                     csv_number(point.cost), csv_number(point.marginal_cost_after),
                     point.blend ? csv_recipe(point.blend->portions) : ""});
  return csv;
}

}  // namespace leastwise
