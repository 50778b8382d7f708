#include <leastwise/trial_report.hpp>

#include <optional>
#include <string>

#include "report/kit/json_values.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_check_values.hpp"

namespace leastwise {
namespace report {

Json grams(std::int64_t mg) { return json_number(static_cast<double>(mg) / 1000); }

Json nutrient_check(const NutrientCheck& n) {
  return {
      {"nutrient", n.nutrient},
      {"required_kg_per_ha",
       {{"min", json_number(n.rate_kg_per_ha.min)}, {"max", json_number(n.rate_kg_per_ha.max)}}},
      {"planned_kg_per_ha", json_number(n.planned_kg_per_ha)},
      {"achieved_kg_per_ha", json_number(n.achieved_kg_per_ha)},
      {"sprayed_kg_per_ha", json_number(n.sprayed_kg_per_ha)},
      {"deviation_percent", json_number(n.deviation_percent)},
      {"readability_percent", json_number(n.readability_percent)}};
}

Json rule_check(const RuleCheck& r) {
  Json json = json_rule(r.rule, r.id,
                        {{"limit", json_number(r.limit)},
                         {"value", json_number(r.value)},
                         {"unit", to_string(r.unit)},
                         {"missed_percent", json_number(r.missed_percent)},
                         {"verdict", to_string(r.verdict)}});
  if (r.confidence) json["confidence"] = json_number(*r.confidence);
  return json;
}

namespace {

Json rescue(const std::optional<Rescue>& r) {
  if (!r) return nullptr;
  return {{"possible", r->possible},
          {"add", json_array(r->additions,
                             [](const Addition& add) {
                               return Json{{"material", add.material},
                                           {"mass_g", grams(add.mass_mg)},
                                           {"balance", add.balance}};
                             })},
          {"load_g", r->possible ? json_number(r->load_g) : Json(nullptr)},
          {"text", r->text}};
}

Json batch(const BatchCheck& b) {
  return {{"batch", b.batch},
          {"treatment", b.treatment},
          {"verdict", to_string(b.verdict)},
          {"product_kg_per_ha", json_number(b.product_kg_per_ha)},
          {"materials", json_array(b.materials,
                                   [](const WeighedMaterial& m) {
                                     return Json{
                                         {"material", m.material},
                                         {"planned_g", grams(m.planned_mg)},
                                         {"weighed_g", json_number(m.weighed_g)},
                                         {"deviation_percent", json_number(m.deviation_percent)},
                                         {"lot", m.lot},
                                         {"initials", m.initials}};
                                   })},
          {"nutrients", json_array(b.nutrients, nutrient_check)},
          {"rules", json_array(b.rules, rule_check)},
          {"rescue", rescue(b.rescue)},
          {"notes", json_array(b.notes, json_note)}};
}

Json applied(const AppliedPlot& a) {
  return {{"plot", a.code},
          {"known", a.known},
          {"batches", a.batches},
          {"lots", a.lots},
          {"nutrients", json_array(a.nutrients, [](const AppliedNutrient& n) {
             return Json{{"nutrient", n.nutrient},
                         {"planned_kg_per_ha", json_number(n.planned_kg_per_ha)},
                         {"applied_kg_per_ha", json_number(n.applied_kg_per_ha)},
                         {"deviation_percent", json_number(n.deviation_percent)}};
           })}};
}

}  // namespace
}  // namespace report

std::string to_json(const WeighedCheck& check) {
  report::Json json{{"leastwise", report::report_version},
                    {"report", "weighed_check"},
                    {"trial", check.title},
                    {"verdict", to_string(check.verdict)}};
  json["batches"] = report::json_array(check.batches, report::batch);
  json["not_weighed"] = check.not_weighed;
  json["applied"] = report::json_array(check.applied, report::applied);
  return report::json_text(json);
}

}  // namespace leastwise
