#include "report/why_json.hpp"

#include "report/kit/answer_json.hpp"

namespace leastwise::report {
namespace {

/// A rule by name and parts, or the mass, which is no rule of the scenario.
Json rule_or_mass(const std::string& name, const std::optional<RuleId>& id, Json rest) {
  if (id) return json_rule(name, *id, rest);
  Json json = {{"rule", name}, {"kind", nullptr}};
  json.update(rest);
  return json;
}

}  // namespace

Json json_cost_part(const CostPart& part) {
  return rule_or_mass(part.rule, part.id,
                      {{"kg", json_number(part.kg)},
                       {"price_per_kg", json_number(part.price_per_kg)},
                       {"cost", json_number(part.cost)}});
}

/// In US units the figures of `costs` are those already: their names alone differ.
Json json_nutrient_costs(const CostPerNutrient& costs, Units units) {
  const std::string mass(unit_name(Measure::mass, units));
  const std::string price = "price_per_" + mass;
  Json json = {{"materials", json_array(costs.materials,
                                        [&](const MaterialNutrientCost& cost) {
                                          return Json{
                                              {"material", cost.material},
                                              {"in_blend", cost.used},
                                              {"nutrient", cost.nutrient},
                                              {"percent", json_number(cost.content_percent)},
                                              {price, json_number(cost.price_per_kg)}};
                                        })},
               {"blend", json_array(costs.blend, [&](const BlendNutrientCost& cost) {
                  return Json{{"nutrient", cost.nutrient},
                              {mass, json_number(cost.kg)},
                              {price, json_number(cost.price_per_kg)},
                              {"cost", json_number(cost.cost)}};
                })}};
  json["rest"] = json_number(costs.rest);
  return json;
}

Json json_why(const WhyMaterial& why) {
  Json json = {{"material", why.material},
               {"used", why.used},
               {"price_per_t", json_number(why.price_per_t)},
               {"freight_per_t", json_number(why.freight_per_t)},
               {"cost_per_t", json_number(why.cost_per_t)},
               {"why", why.why.empty() ? Json(nullptr) : Json(why.why)}};
  add_known(json, "enters_below_price_per_t", why.enters_below_price_per_t);
  json["worth_per_t"] = json_number(why.worth_per_t);
  json["worth"] = json_array(why.worth, [](const RuleWorth& worth) {
    return rule_or_mass(worth.rule, worth.id, {{"worth_per_t", json_number(worth.worth_per_t)}});
  });
  json["apart"] = json_array(why.apart, [](const KeptApartFrom& apart) {
    return Json{{"material", apart.material}, {"family", apart.family}, {"reason", apart.reason}};
  });
  json["forced_percent"] = json_number(why.forced_percent);
  add_known(json, "forced_cost", why.forced_cost);
  if (why.forced_rise) json["forced_rise"] = json_number(why.forced_rise);
  json["forced_portions"] = json_portions(why.forced_portions);
  json["conflict"] = why.conflict;
  return json;
}

}  // namespace leastwise::report
