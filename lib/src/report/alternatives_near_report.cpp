#include <leastwise/alternatives.hpp>

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

namespace leastwise::report {
namespace {

/// Less than this, in kg, is no amount but what rounding left.
constexpr double nothing = 1e-9;

std::string wish_words(const NearOptimum& answer) {
  if (answer.wish == SecondaryObjective::least_of) return "the least " + answer.of;
  return "the " + std::string(to_string(answer.wish));
}

std::string value_words(const NearOptimum& answer, double value) {
  if (answer.wish == SecondaryObjective::fewest_materials)
    return fmt::format("{:.0f} material{}", value, value == 1 ? "" : "s");
  const std::string_view unit = amount_unit(answer.basis, answer.units);
  const std::string of =
      answer.wish == SecondaryObjective::least_of ? " of " + answer.of : std::string{};
  return fmt::format("{} {}{}", amount_text(value), unit, of);
}

std::vector<RecipeShown> recipes_of(const NearOptimum& answer) {
  std::vector<RecipeShown> recipes;
  if (answer.best) recipes.push_back(shown(*answer.best));
  if (answer.blend) recipes.push_back(shown(*answer.blend));
  return recipes;
}

std::vector<Note> notes_of(const NearOptimum& answer) {
  const auto name = [](std::size_t k) { return k == 0 ? "the cheapest" : "this one"; };
  return named_notes(recipe_notes(answer.notes, recipes_of(answer)), 2, {"of", "of", {}, name});
}

void write_both(Page& page, const NearOptimum& answer) {
  Table table;
  const std::string unit(amount_unit(answer.basis, answer.units));
  table.add_words("material");
  table.add_numbers("cheapest, " + unit);
  table.add_numbers("this one, " + unit);
  std::vector<std::string> names;
  for (const auto* blend : {&*answer.best, &*answer.blend})
    for (const Portion& p : blend->portions)
      if (std::ranges::find(names, p.material) == names.end()) names.push_back(p.material);
  const auto cell = [](double kg) { return kg > 0 ? amount_text(kg) : std::string("-"); };
  for (const auto& name : names)
    table.add_row({name, cell(kg_of(*answer.best, name)), cell(kg_of(*answer.blend, name))});
  table.add_row({cost_heading(answer.currency, answer.basis, answer.units),
                 money_text(*answer.best_cost), money_text(*answer.cost)});
  page.illustrated(near_optimum_picture(answer), table);
}

}  // namespace

Page page_of(const NearOptimum& answer, Medium medium) {
  Page page(medium);
  page.title(fmt::format("Blend with {}{}{}", wish_words(answer), answer.title.empty() ? "" : ": ",
                         answer.title));
  write_outcome(page, answer.outcome);
  if (!answer.blend) {
    write_notes(page, answer.notes);
    return without_goods(std::move(page));
  }
  const std::string unit(unit_of_basis(answer.basis, answer.units));
  const bool without = answer.wish == SecondaryObjective::least_of && *answer.value < nothing;
  const std::string opening =
      fmt::format("The cheapest blend costs {} and has {}. Within {} % of that, up to {}, ",
                  cost_text(*answer.best_cost, answer.currency, unit),
                  value_words(answer, *answer.value_at_best), plain_text(answer.within_percent),
                  cost_text(*answer.cost_limit, answer.currency, unit));
  const std::string found =
      without ? "a blend can do without; the cheapest that does"
              : fmt::format("no blend has {} than {}; the cheapest that has no more",
                            answer.wish == SecondaryObjective::fewest_materials ? "fewer" : "less",
                            value_words(answer, *answer.value));
  page.paragraph(fmt::format("{}{} costs {} ({}).", opening, found,
                             cost_text(*answer.cost, answer.currency, unit),
                             counted(answer.solves, "solve")));
  page.blank();
  write_both(page, answer);
  write_notes_and_safety(page, notes_of(answer), recipes_of(answer));
  return page;
}

std::string svg_of(const NearOptimum& answer) {
  return svg_with_notes(near_optimum_picture(answer), answer.outcome, notes_of(answer));
}

std::string json_of(const NearOptimum& answer) {
  Json json =
      json_head("near_optimum", answer.outcome, answer.title, answer.currency, answer.basis);
  json["wish"] = to_string(answer.wish);
  json["of"] = answer.of.empty() ? Json(nullptr) : Json(answer.of);
  json["within_percent"] = json_number(answer.within_percent);
  json["best_cost"] = json_number(answer.best_cost);
  json["cost_limit"] = json_number(answer.cost_limit);
  json["cost"] = json_number(answer.cost);
  json["value_at_best"] = json_number(answer.value_at_best);
  json["value"] = json_number(answer.value);
  json["best"] = answer.best ? json_blend(*answer.best) : Json(nullptr);
  json["blend"] = answer.blend ? json_blend(*answer.blend) : Json(nullptr);
  json["solves"] = answer.solves;
  add_outcome(json, answer.outcome);
  json["notes"] = json_notes(recipe_notes(answer.notes, recipes_of(answer)));
  return json_text(json);
}

std::string csv_of(const NearOptimum& answer) {
  std::string csv = csv_header("blend,cost,value,recipe_kg_per_t,cautions,status\n", answer.units);
  if (!answer.blend) return csv + csv_nothing(6, answer.outcome);
  csv += csv_line({"cheapest", csv_number(answer.best_cost), csv_number(answer.value_at_best),
                   csv_recipe(answer.best->portions), csv_cautions(answer.best->notes),
                   csv_status(answer.outcome)});
  csv += csv_line(
      {answer.wish == SecondaryObjective::least_of ? "least of " + answer.of
                                                   : std::string(to_string(answer.wish)),
       csv_number(answer.cost), csv_number(answer.value), csv_recipe(answer.blend->portions),
       csv_cautions(answer.blend->notes), csv_status(answer.outcome)});
  return csv;
}

}  // namespace leastwise::report
