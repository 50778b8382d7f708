#include <leastwise/limit_map.hpp>

#include <fmt/format.h>

#include <algorithm>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"
#include "report/recipe_notes_json.hpp"
#include "report/words/recipe_notes.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

void write_points(Page& page, const LimitMap& map) {
  Table table;
  table.add_numbers(with_unit("limit", map.unit));
  table.add_numbers(cost_heading(map.currency, map.basis, map.units));
  table.add_numbers("one more costs");
  table.add_words("recipe, " + std::string(unit_name(Measure::dose, map.units)));
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

std::vector<RecipeShown> recipes_of(const LimitMap& map) {
  std::vector<RecipeShown> recipes;
  for (const LimitPoint& point : map.points)
    recipes.push_back(point.blend ? shown(*point.blend) : RecipeShown{});
  return recipes;
}

/// A caution for mixtures of the recipes at the points from `from` to `to`.
struct CautionBetween {
  Note note{};
  std::size_t from = 0;
  std::size_t to = 0;
};

std::vector<CautionBetween> cautions_between(const LimitMap& map) {
  std::vector<CautionBetween> list;
  for (std::size_t k = 0; k + 1 < map.points.size(); ++k)
    for (const Note& note : map.points[k].cautions_after) {
      const auto before = std::ranges::find_if(
          list, [&](const auto& item) { return item.to == k && item.note == note; });
      if (before == list.end())
        list.push_back({note, k, k + 1});
      else
        before->to = k + 1;
    }
  return list;
}

std::vector<Note> notes_of(const LimitMap& map) {
  const auto limit = [&](std::size_t k) { return plain_text(map.points[k].limit, 5); };
  const auto with_blend = static_cast<std::size_t>(
      std::ranges::count_if(map.points, [](const auto& point) { return point.blend.has_value(); }));
  auto notes = named_notes(recipe_notes(map.notes, recipes_of(map)), with_blend,
                           {"at", "at", std::string(to_string(map.unit)), limit});
  for (const auto& [note, from, to] : cautions_between(map))
    notes.push_back({note.level, note.code, note.subjects,
                     fmt::format("between {} and {}: {}", limit(from),
                                 limit_text(map.points[to].limit, map.unit), note.text)});
  return notes;
}

Json json_notes_of(const LimitMap& map) {
  Json json = json_notes(recipe_notes(map.notes, recipes_of(map)), "points");
  for (Json& note : json) note["between"] = false;
  for (const auto& [note, from, to] : cautions_between(map)) {
    Json item = json_note(note);
    item["points"] = {from + 1, to + 1};
    item["between"] = true;
    json.push_back(item);
  }
  return json;
}

std::string cautions_at(const LimitPoint& point) {
  std::string text = point.blend ? csv_cautions(point.blend->notes) : std::string{};
  if (!point.cautions_after.empty())
    text +=
        (text.empty() ? "" : " ") + ("Up to the next point: " + csv_cautions(point.cautions_after));
  return text;
}

/// There is no blend anywhere: where it was tried, and what conflicts at the easier end.
void write_no_blend(Page& page, const LimitMap& map) {
  page.warning(no_blend_words(map));
  for (const auto& rule : map.outcome.conflict->rules)
    page.item("  - ", fmt::format("{}{}", rule_in_words(rule.id, rule.limit, rule.unit),
                                  place_text(rule.place)));
  write_notes(page, map.notes);
}

}  // namespace

Page page_of(const LimitMap& map, Medium medium) {
  Page page(medium);
  page.title(fmt::format("Cost of {}{}{}", map.rule, map.title.empty() ? "" : ": ", map.title));
  if (map.outcome.conflict) {
    write_no_blend(page, map);
    return without_goods(std::move(page));
  }
  write_outcome(page, map.outcome);
  if (map.points.empty()) {
    write_notes(page, map.notes);
    return without_goods(std::move(page));
  }
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
  page.paragraph(fmt::format("{} ({})", how_known(map), counted(map.solves, "solve")));
  page.blank();
  write_points(page, map);
  write_notes_and_safety(page, notes_of(map), recipes_of(map));
  return page;
}

std::string svg_of(const LimitMap& map) {
  const LimitMap own = map;
  return svg_with_notes(limit_map_picture(own), own.outcome, notes_of(own));
}

std::string json_of(const LimitMap& map) {
  Json json = json_head("limit_map", map.outcome, map.title, map.currency, map.basis);
  json["rule"] = map.rule;
  json["unit"] = to_string(map.unit);
  json["from"] = json_number(map.from);
  json["to"] = json_number(map.to);
  json["limit_now"] = json_number(map.limit_now);
  json["declared_now"] = json_number(map.declared_now);
  json["possible"] = map.possible ? Json{{"from", json_number(map.possible->min)},
                                         {"to", json_number(map.possible->max)}}
                                  : Json(nullptr);
  json["conflict_at"] = json_number(map.conflict_at);
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
  add_outcome(json, map.outcome);
  add_parts(json, map.id);
  json["notes"] = json_notes_of(map);
  return json_text(json);
}

std::string csv_of(const LimitMap& map) {
  std::string csv = csv_header(
      "rule,exact,limit,cost,marginal_cost_after,recipe_kg_per_t,cautions,status\n", map.units);
  for (const LimitPoint& point : map.points)
    csv += csv_line({map.rule, map.exact ? "yes" : "no", csv_number(point.limit),
                     csv_number(point.cost), csv_number(point.marginal_cost_after),
                     point.blend ? csv_recipe(point.blend->portions) : "", cautions_at(point),
                     csv_status(map.outcome)});
  if (map.points.empty()) csv += csv_nothing(8, map.outcome);
  return csv;
}

}  // namespace leastwise::report
