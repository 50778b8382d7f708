#include <leastwise/risk.hpp>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/own_units.hpp"
#include "report/recipe_notes_json.hpp"
#include "report/words/recipe_notes.hpp"

namespace leastwise::report {
namespace {

/// A number that a single draw cannot tell.
Json beyond_one_draw(const PriceRisk& risk, double value) {
  return risk.draws > 1 ? json_number(value) : Json(nullptr);
}

Json json_spread(const PriceRisk& risk, const Spread& spread) {
  return {{"mean", json_number(spread.mean)},
          {"standard_deviation", beyond_one_draw(risk, spread.standard_deviation)},
          {"standard_error", beyond_one_draw(risk, spread.standard_error)},
          {"least", json_number(spread.least)},
          {"percent_5", json_number(spread.percent_5)},
          {"percent_50", json_number(spread.percent_50)},
          {"percent_95", json_number(spread.percent_95)},
          {"most", json_number(spread.most)}};
}

Json json_price(const PriceSpread& spread) {
  Json json{{"material", spread.material}};
  switch (spread.shape) {
    case PriceShape::normal:
      json["normal_percent"] = json_number(spread.percent);
      break;
    case PriceShape::lognormal:
      json["lognormal_percent"] = json_number(spread.percent);
      break;
    case PriceShape::triangular:
      json["triangular"] = {{"min", json_number(spread.min)},
                            {"mode", json_number(spread.mode)},
                            {"max", json_number(spread.max)}};
      break;
  }
  return json;
}

Json json_uncertainty(const PriceUncertainty& asked) {
  Json json{{"draws", asked.draws.value_or(default_draws)}, {"seed", asked.seed.value_or(1)}};
  json["prices"] = Json::array();
  for (const auto& spread : asked.prices) json["prices"].push_back(json_price(spread));
  json["correlations"] = Json::array();
  for (const auto& pair : asked.correlations)
    json["correlations"].push_back(
        {{"between", {pair.first, pair.second}}, {"r", json_number(pair.r)}});
  json["history"] = nullptr;
  if (asked.history)
    json["history"] = {{"materials", asked.history->materials},
                       {"rows", asked.history->rows.size()},
                       {"dates", asked.history->dates}};
  return json;
}

/// A note about today's recipe says so, whether a draw chose that recipe or not.
Json json_risk_notes(const PriceRisk& risk) {
  if (risk.draws == 0) return json_notes(recipe_notes(risk.notes, {}));
  const auto notes = recipe_notes(risk.notes, shown(risk));
  Json json = Json::array();
  for (RecipeNote note : notes) {
    const bool general = note.recipes.empty();
    bool today = std::erase(note.recipes, risk.recipes.size()) > 0;
    for (const std::size_t k : note.recipes) today = today || risk.recipes[k].today;
    Json item = json_note(note.note);
    item["recipes"] = general ? Json(nullptr)
                              : json_array(note.recipes, [](std::size_t k) { return Json(k + 1); });
    item["today"] = general || today;
    json.push_back(item);
  }
  return json;
}

}  // namespace

std::string json_of(const PriceRisk& risk) {
  Json json = json_head("risk", risk.outcome, risk.title, risk.currency, risk.basis);
  json["asked"] = json_uncertainty(risk.uncertainty);
  json["draws"] = risk.draws;
  const bool any = risk.draws > 0;
  json["cost_today"] = json_number(risk.cost_today);
  json["fixed"] = any ? json_spread(risk, risk.fixed) : Json(nullptr);
  json["reoptimised"] = any ? json_spread(risk, risk.reoptimised) : Json(nullptr);
  json["flexibility"] = any ? json_spread(risk, risk.flexibility) : Json(nullptr);
  json["recipes"] = Json::array();
  for (const auto& recipe : risk.recipes)
    json["recipes"].push_back({{"draws", recipe.draws},
                               {"frequency_percent", json_number(recipe.frequency_percent)},
                               {"today", recipe.today},
                               {"portions", json_portions(recipe.portions)}});
  json["materials"] = Json::array();
  for (const auto& material : risk.materials)
    json["materials"].push_back(
        {{"material", material.material},
         {"price_per_t_today", json_number(material.price_today)},
         {"mean_price_per_t", json_number(material.mean_price)},
         {"price_deviation_per_t", beyond_one_draw(risk, material.price_deviation)},
         {"frequency_percent", json_number(material.frequency_percent)},
         {"kg_per_t_today", json_number(material.kg_per_t_today)},
         {"mean_kg_per_t", json_number(material.mean_kg_per_t)},
         {"kg_per_ha_today", json_number(material.kg_per_ha_today)},
         {"mean_kg_per_ha", json_number(material.mean_kg_per_ha)}});
  json["prices_at_zero"] = risk.prices_at_zero;
  json["today"] = risk.today ? json_blend(*risk.today) : Json(nullptr);
  add_outcome(json, risk.outcome);
  json["notes"] = json_risk_notes(risk);
  return json_text(json);
}

std::string csv_of(const PriceRisk& risk) {
  std::string csv = csv_header(
      "draw,fixed_cost,reoptimised_cost,flexibility,recipe,recipe_kg_per_t,cautions,status\n",
      risk.units);
  for (std::size_t n = 0; n < risk.each.size(); ++n) {
    const RiskDraw& draw = risk.each[n];
    csv += csv_line(
        {std::to_string(n + 1), csv_number(draw.fixed_cost), csv_number(draw.reoptimised_cost),
         csv_number(draw.fixed_cost - draw.reoptimised_cost), std::to_string(draw.recipe + 1),
         csv_recipe(risk.recipes[draw.recipe].portions),
         csv_cautions(risk.recipes[draw.recipe].cautions), csv_status(risk.outcome)});
  }
  if (risk.each.empty()) csv += csv_nothing(8, risk.outcome);
  return csv;
}

}  // namespace leastwise::report
