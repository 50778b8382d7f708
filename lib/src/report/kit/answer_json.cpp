#include "report/kit/answer_json.hpp"

#include "report/kit/sections.hpp"

namespace leastwise::report {

Json json_portions(std::span<const Portion> portions) {
  Json list = Json::array();
  for (const Portion& p : portions)
    list.push_back({{"material", p.material},
                    {"form", to_string(p.form)},
                    {"kg_per_ha", json_number(p.kg_per_ha)},
                    {"kg_per_t", json_number(p.kg_per_t)},
                    {"cost_per_t", json_number(p.cost_per_t)}});
  return list;
}

Json json_blend(const Blend& blend) {
  Json supply = Json::array();
  for (const Supply& s : blend.supply)
    supply.push_back({{"nutrient", s.nutrient},
                      {"kg_per_ha", json_number(s.kg_per_ha)},
                      {"effective_kg_per_ha", json_number(s.effective_kg_per_ha)},
                      {"percent", json_number(s.percent)}});
  return {{"cost_per_ha", json_number(blend.cost_per_ha)},
          {"cost_per_t", json_number(blend.cost_per_t)},
          {"total_kg_per_ha", json_number(blend.total_kg_per_ha)},
          {"portions", json_portions(blend.portions)},
          {"binder_kg_per_t", json_number(blend.binder.kg_per_t)},
          {"supply", supply}};
}

Json json_head(std::string_view report, const Outcome& outcome, const std::string& title,
               const std::string& currency, Basis basis) {
  return {{"leastwise", 1}, {"report", report},     {"status", to_string(outcome.status)},
          {"title", title}, {"currency", currency}, {"basis", unit_of_basis(basis)}};
}

void add_outcome(Json& json, const Outcome& outcome) {
  if (outcome.conflict) {
    Json rules = Json::array();
    for (const auto& rule : outcome.conflict->rules) {
      Json rest = {{"limit", json_number(rule.limit)}};
      add_known(rest, "shortfall", rule.shortfall);
      rest["unit"] = to_string(rule.unit);
      rules.push_back(json_rule(rule.rule, rule.id, rest));
    }
    json["conflict"] = rules;
  }
  if (outcome.status == Status::stopped) {
    json["cause"] = to_string(outcome.cause);
    json["detail"] = outcome.detail;
  }
}

}  // namespace leastwise::report
