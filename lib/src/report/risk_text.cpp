#include <leastwise/risk.hpp>

#include <fmt/format.h>

#include <algorithm>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"
#include "report/words/recipe_notes.hpp"

namespace leastwise::report {
namespace {

constexpr std::size_t recipes_shown = 8;

std::string costs(const PriceRisk& risk, double cost) {
  return cost_text(cost, risk.currency, unit_of_basis(risk.basis, risk.units));
}

void write_answer(Page& page, const PriceRisk& risk) {
  page.paragraph(
      fmt::format("The cheapest blend costs {} at today's prices.", costs(risk, *risk.cost_today)));
  page.paragraph(fmt::format(
      "Over {} of prices, today's recipe costs {} on average, and more than {} in at most 5 of 100 "
      "draws. Re-optimising at each draw costs {} on average. That freedom is "
      "worth {} on average.",
      risk.draws < *risk.uncertainty.draws
          ? fmt::format("{} of {} draws", risk.draws, *risk.uncertainty.draws)
          : counted(risk.draws, "draw"),
      costs(risk, risk.fixed.mean), costs(risk, risk.fixed.percent_95),
      costs(risk, risk.reoptimised.mean), costs(risk, risk.flexibility.mean)));
  page.paragraph(fmt::format(
      "Every draw's cheapest recipe is proved at the drawn prices. {}",
      risk.draws > 1 ? "An average is as good as its last column says: one more set of draws "
                       "would differ by about that much."
                     : "How far an average may be off, a single draw cannot tell."));
}

void write_costs(Page& page, const PriceRisk& risk) {
  page.heading("Cost, " + cost_heading(risk.currency, risk.basis, risk.units));
  Table table;
  table.add_words("");
  for (const char* heading : {"5 %", "50 %", "95 %", "mean", "deviation", "+/- of mean"})
    table.add_numbers(heading);
  const bool spread_known = risk.draws > 1;
  const auto row = [&](const char* name, const Spread& spread) {
    table.add_row({name, money_text(spread.percent_5), money_text(spread.percent_50),
                   money_text(spread.percent_95), money_text(spread.mean),
                   spread_known ? money_text(spread.standard_deviation) : "",
                   spread_known ? price_text(spread.standard_error) : ""});
  };
  row("today's recipe", risk.fixed);
  row("cheapest each time", risk.reoptimised);
  row("saved by choosing", risk.flexibility);
  page.table(table);
}

/// The distribution of the cost; text does with the quantiles.
void write_distribution(Page& page, const PriceRisk& risk) {
  if (page.in_html() && !risk.each.empty()) page.illustrated(risk_picture(risk), risk_table(risk));
}

void write_recipes(Page& page, const PriceRisk& risk) {
  page.heading("Recipes");
  Table table;
  table.add_numbers("");
  table.add_numbers("draws %");
  table.add_words("recipe, " + std::string(unit_name(Measure::dose, risk.units)));
  const std::size_t shown = std::min(recipes_shown, risk.recipes.size());
  double rest = 0;
  for (std::size_t k = 0; k < risk.recipes.size(); ++k) {
    const RiskRecipe& recipe = risk.recipes[k];
    if (k >= shown) {
      rest += recipe.frequency_percent;
      continue;
    }
    table.add_row({std::to_string(k + 1), share_text(recipe.frequency_percent),
                   (recipe.today ? "today's: " : "") + recipe_words(recipe.portions)});
  }
  if (risk.recipes.size() > shown)
    table.add_row(
        {"", share_text(rest), fmt::format("{} other recipes", risk.recipes.size() - shown)});
  page.table(table);
}

void write_materials(Page& page, const PriceRisk& risk) {
  page.heading("Materials");
  const std::string dose(unit_name(Measure::dose, risk.units));
  Table table;
  table.add_words("material");
  for (const std::string& heading :
       {price_heading(risk.currency, risk.units) + " today", std::string("mean"),
        std::string("deviation"), std::string("used in %"), dose + " today", "mean " + dose})
    table.add_numbers(heading);
  for (const RiskMaterial& material : risk.materials)
    table.add_row({material.material, money_text(material.price_today),
                   money_text(material.mean_price),
                   risk.draws > 1 ? money_text(material.price_deviation) : "",
                   share_text(material.frequency_percent), amount_text(material.kg_per_t_today),
                   amount_text(material.mean_kg_per_t)});
  page.table(table);
}

std::string spread_words(const PriceSpread& spread) {
  switch (spread.shape) {
    case PriceShape::normal:
      return fmt::format("{} normal around today's price, deviation {} % of it", spread.material,
                         plain_text(spread.percent));
    case PriceShape::lognormal:
      return fmt::format("{} lognormal with today's price as its mean, deviation {} % of it",
                         spread.material, plain_text(spread.percent));
    case PriceShape::triangular:
      break;
  }
  return fmt::format("{} triangular from {} over {} to {}", spread.material, plain_text(spread.min),
                     plain_text(spread.mode), plain_text(spread.max));
}

void write_assumptions(Page& page, const PriceRisk& risk) {
  const PriceUncertainty& asked = risk.uncertainty;
  page.heading("What was drawn");
  for (const PriceSpread& spread : asked.prices) page.item("  - ", spread_words(spread));
  for (const PriceCorrelation& pair : asked.correlations)
    page.item("  - ", fmt::format("{} and {} move together, r = {} of the normal variables behind "
                                  "their prices",
                                  pair.first, pair.second, plain_text(pair.r)));
  if (asked.history)
    page.item("  - ", fmt::format("whole rows of a history of {}, as they stand, for {}",
                                  counted(asked.history->rows.size(), "date"),
                                  fmt::join(asked.history->materials, ", ")));
  page.item("  ", fmt::format("Freight and all other prices stay as they are. Seed {}; the same "
                              "seed draws the same prices.",
                              *asked.seed));
  if (risk.prices_at_zero > 0)
    page.warning_item("  - ", fmt::format("{} would have fallen below 0 and count as 0; a "
                                          "lognormal spread cannot.",
                                          counted(risk.prices_at_zero, "drawn price")));
}

/// The recipes that have a number on the page, then, as one, all others that were drawn.
std::vector<Note> notes_of(const PriceRisk& risk) {
  if (risk.draws == 0) return risk.notes;
  const auto recipes = shown(risk);
  std::vector<Note> notes;
  for (RecipeNote& item : recipe_notes(risk.notes, recipes)) {
    if (item.recipes.empty() || item.recipes.size() == recipes.size()) {
      notes.push_back(item.note);
      continue;
    }
    std::string words;
    const auto add = [&](const std::string& more) { words += (words.empty() ? "" : ", ") + more; };
    const bool today = std::erase(item.recipes, risk.recipes.size()) > 0;
    const auto others = static_cast<std::size_t>(
        std::erase_if(item.recipes, [](std::size_t k) { return k >= recipes_shown; }));
    if (today) add("today's recipe");
    if (!item.recipes.empty()) add(recipes_in_words(item.recipes));
    if (others > 0) add(fmt::format("{} of the other recipes", others));
    notes.push_back(
        {item.note.level, item.note.code, item.note.subjects, words + ": " + item.note.text});
  }
  return notes;
}

}  // namespace

Page page_of(const PriceRisk& risk, Medium medium) {
  Page page(medium);
  page.title(risk.title.empty() ? "Price risk" : "Price risk: " + risk.title);
  write_outcome(page, risk.outcome);
  if (risk.draws > 0) {
    write_answer(page, risk);
    write_costs(page, risk);
    write_distribution(page, risk);
    write_recipes(page, risk);
    write_materials(page, risk);
    write_assumptions(page, risk);
    write_notes_and_safety(page, notes_of(risk), shown(risk));
    return page;
  }
  write_notes(page, risk.notes);
  return without_goods(std::move(page));
}

std::string svg_of(const PriceRisk& risk) {
  return svg_with_notes(risk_picture(risk), risk.outcome, notes_of(risk));
}

}  // namespace leastwise::report
