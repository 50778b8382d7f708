#include <leastwise/alternatives.hpp>

#include <fmt/format.h>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"
#include "report/recipe_notes_json.hpp"
#include "report/words/recipe_notes.hpp"

namespace leastwise::report {
namespace {

std::vector<RecipeShown> recipes_of(const Alternatives& list) {
  std::vector<RecipeShown> recipes;
  for (const Alternative& line : list.list) recipes.push_back(shown(line.blend));
  return recipes;
}

std::vector<Note> notes_of(const Alternatives& list) {
  return named_notes(recipe_notes(list.notes, recipes_of(list)), list.list.size(),
                     {"number", "numbers", {}, {}});
}

void write_alternatives(Page& page, const Alternatives& list) {
  Table table;
  table.add_numbers("");
  table.add_numbers(cost_heading(list.currency, list.basis, list.units));
  table.add_numbers("more");
  table.add_words("materials, " + std::string(unit_name(Measure::dose, list.units)));
  for (std::size_t k = 0; k < list.list.size(); ++k)
    table.add_row({std::to_string(k + 1), money_text(list.list[k].cost),
                   money_text(list.list[k].difference), recipe_words(list.list[k].blend.portions)});
  page.illustrated(alternatives_picture(list), table);
}

}  // namespace

Page page_of(const Alternatives& list, Medium medium) {
  Page page(medium);
  page.title(fmt::format("Next-best blends{}{}", list.title.empty() ? "" : ": ", list.title));
  write_outcome(page, list.outcome);
  if (list.list.empty()) {
    write_notes(page, list.notes);
    return without_goods(std::move(page));
  }
  page.paragraph(
      fmt::format("The {} cheapest sets of materials, in order, none missed ({}). In each every "
                  "material earns its place: no part of the set makes a blend as cheap.{}",
                  list.list.size(), counted(list.solves, "linear program"),
                  list.exhausted ? " There is no further set." : ""));
  page.blank();
  write_alternatives(page, list);
  write_notes_and_safety(page, notes_of(list), recipes_of(list));
  return page;
}

std::string svg_of(const Alternatives& list) {
  return svg_with_notes(alternatives_picture(list), list.outcome, notes_of(list));
}

std::string json_of(const Alternatives& list) {
  Json json = json_head("alternatives", list.outcome, list.title, list.currency, list.basis);
  Json lines = Json::array();
  for (const Alternative& line : list.list)
    lines.push_back({{"materials", line.materials},
                     {"cost", json_number(line.cost)},
                     {"difference", json_number(line.difference)},
                     {"blend", json_blend(line.blend)}});
  json["alternatives"] = lines;
  json["exhausted"] = list.exhausted;
  json["linear_programs"] = list.solves;
  add_outcome(json, list.outcome);
  json["notes"] = json_notes(recipe_notes(list.notes, recipes_of(list)));
  return json_text(json);
}

std::string csv_of(const Alternatives& list) {
  std::string csv =
      csv_header("rank,cost,difference,recipe_kg_per_t,cautions,status\n", list.units);
  for (std::size_t k = 0; k < list.list.size(); ++k)
    csv += csv_line({std::to_string(k + 1), csv_number(list.list[k].cost),
                     csv_number(list.list[k].difference), csv_recipe(list.list[k].blend.portions),
                     csv_cautions(list.list[k].blend.notes), csv_status(list.outcome)});
  if (list.list.empty()) csv += csv_nothing(6, list.outcome);
  return csv;
}

}  // namespace leastwise::report
