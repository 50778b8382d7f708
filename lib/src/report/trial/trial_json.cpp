#include <leastwise/trial_report.hpp>

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "report/kit/json_values.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise {
namespace report {
namespace {

Json grams(std::int64_t mg) { return json_number(static_cast<double>(mg) / 1000); }

Json weighing(const Weighing& w) {
  return {{"material", material_name(w)},
          {"role", to_string(w.role)},
          {"target_g", json_number(w.target_g)},
          {"weigh_g", grams(w.mass_mg)},
          {"balance", w.balance},
          {"readability_g", grams(w.readability_mg)},
          {"parts_g", json_array(w.parts_mg, grams)}};
}

Json nutrient(const NutrientCheck& n) {
  return {
      {"nutrient", n.nutrient},
      {"required_kg_per_ha",
       {{"min", json_number(n.rate_kg_per_ha.min)}, {"max", json_number(n.rate_kg_per_ha.max)}}},
      {"planned_kg_per_ha", json_number(n.planned_kg_per_ha)},
      {"achieved_kg_per_ha", json_number(n.achieved_kg_per_ha)},
      {"deviation_percent", json_number(n.deviation_percent)},
      {"readability_percent", json_number(n.readability_percent)}};
}

Json rule(const RuleCheck& r) {
  Json json = json_rule(r.rule, r.id,
                        {{"limit", json_number(r.limit)},
                         {"value", json_number(r.value)},
                         {"unit", to_string(r.unit)},
                         {"missed_percent", json_number(r.missed_percent)},
                         {"verdict", to_string(r.verdict)}});
  if (r.confidence) json["confidence"] = json_number(*r.confidence);
  return json;
}

Json coating(const std::optional<Coating>& c) {
  if (!c) return nullptr;
  return {{"powder_g", grams(c->powder_mg)},
          {"binder", c->binder},
          {"binder_g", grams(c->binder_mg)},
          {"binder_ml", json_number(c->binder_ml)},
          {"binder_density_kg_per_l", json_number(c->binder_density_kg_per_l)},
          {"density_source", c->density_source},
          {"binder_g_per_kg_powder", json_number(c->binder_g_per_kg_powder)},
          {"load_g_per_kg", json_number(c->load_g_per_kg)},
          {"percent", json_number(c->percent)},
          {"max_percent", json_number(c->max_percent)}};
}

Json premix(const Premix& p) {
  return {{"material", p.material},
          {"carrier", p.carrier.empty() ? Json(nullptr) : Json(p.carrier)},
          {"parts", p.parts},
          {"steps", json_array(p.steps,
                               [](const DilutionStep& step) {
                                 return Json{{"powder_g", grams(step.powder_mg)},
                                             {"carrier_g", grams(step.carrier_mg)}};
                               })},
          {"take_g", grams(p.take_mg)},
          {"holds_g", grams(p.holds_mg)},
          {"carrier_g", grams(p.carrier_mg)}};
}

Json answer(const TreatmentPlan& plan) {
  const bool has_product = plan.state == TreatmentState::planned;
  if (has_product || !plan.answer) return nullptr;
  return Json::parse(to_json(*plan.answer));
}

Json treatment(const TreatmentPlan& t, PlanPart part) {
  Json json{{"treatment", t.name},
            {"code", t.code},
            {"state", to_string(t.state)},
            {"area_m2", json_number(t.area_m2)},
            {"plots", t.plots},
            {"product_kg_per_ha", json_number(t.product_kg_per_ha)},
            {"plots_g", grams(t.packs_mg)},
            {"spare_g", grams(t.spare_mg)},
            {"total_g", grams(t.total_mg)},
            {"mixer", t.mixer},
            {"load_g", grams(t.load_mg)},
            {"batches", t.batch_codes},
            {"nutrients", json_array(t.nutrients, nutrient)},
            {"rules", json_array(t.rules, rule)},
            {"notes", json_array(t.notes, json_note)},
            {"hazards", json_array(t.hazards, json_note)},
            {"same_day", t.same_day},
            {"spread_by", t.spread_by.empty() ? Json(nullptr) : Json(t.spread_by)},
            {"answer", answer(t)}};
  if (part == PlanPart::overview) return json;
  json["bulk_density_kg_per_m3"] = json_number(t.bulk_density_kg_per_m3);
  json["weighings"] = json_array(t.weighings, weighing);
  json["coating"] = coating(t.coating);
  json["premixes"] = json_array(t.premixes, premix);
  json["stop_conditions"] = json_array(t.stop_conditions, json_note);
  json["order_of_work"] = json_array(t.order_of_work, [](const Step& step) {
    return Json{{"text", step.text}, {"minutes", step.minutes}};
  });
  json["cautions"] = json_array(t.cautions, [](const Note& note) { return Json(note.text); });
  return json;
}

Json plot(const TrialPlan& plan, const Plot& p) {
  const TreatmentPlan& treatment = plan.treatments[p.treatment];
  return {{"code", p.code},
          {"site", plan.sites[p.site].name},
          {"replicate", p.replicate},
          {"plot", p.number},
          {"treatment", treatment.name},
          {"treatment_code", treatment.code},
          {"state", state_of_plot(treatment)},
          {"area_m2", json_number(p.area_m2)},
          {"container", p.container},
          {"balance", p.balance},
          {"packs", json_array(p.packs, [&](const Pack& pack) {
             const auto codes = std::span(treatment.batch_codes)
                                    .subspan(pack.first_load, pack.last_load - pack.first_load + 1);
             return Json{{"label", pack.label},
                         {"mass_g", grams(pack.mass_mg)},
                         {"batches", std::vector<std::string>(codes.begin(), codes.end())}};
           })}};
}

Json purchase(const Purchase& p) {
  return {{"material", p.material},
          {"need_g", grams(p.need_mg)},
          {"spare_g", grams(p.spare_mg)},
          {"bag_kg", p.bag_kg ? json_number(*p.bag_kg) : Json(nullptr)},
          {"bags", p.bag_kg ? Json(p.bags) : Json(nullptr)},
          {"buy_kg", json_number(p.bought_kg)},
          {"left_over_kg", json_number(p.left_over_kg)},
          {"price_per_t", json_number(p.price_per_t)},
          {"cost", json_number(p.cost)}};
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
                                         {"deviation_percent", json_number(m.deviation_percent)}};
                                   })},
          {"nutrients", json_array(b.nutrients, nutrient)},
          {"rules", json_array(b.rules, rule)},
          {"notes", json_array(b.notes, json_note)}};
}

}  // namespace
}  // namespace report

std::string to_json(const TrialPlan& plan, PlanPart part) {
  using report::Json;
  Json json{{"leastwise", report::report_version},
            {"trial", plan.title},
            {"code", plan.code},
            {"currency", plan.currency},
            {"complete", plan.complete()},
            {"seed", plan.seed ? Json(*plan.seed) : Json(nullptr)},
            {"mixed_on", plan.mixed_on.empty() ? Json(nullptr) : Json(plan.mixed_on)},
            {"spare_percent", report::json_number(plan.spare_percent)}};
  json["treatments"] = report::json_array(
      plan.treatments, [part](const TreatmentPlan& t) { return report::treatment(t, part); });
  json["plots"] =
      report::json_array(plan.plots, [&plan](const Plot& p) { return report::plot(plan, p); });
  json["purchases"] = report::json_array(plan.purchases, report::purchase);
  json["purchase_cost"] = report::json_number(plan.purchase_cost);
  json["notes"] = report::json_array(plan.notes, report::json_note);
  json["store_keeping"] = plan.store_keeping;
  json["cautions"] = plan.cautions;
  return report::json_text(json);
}

std::string to_json(const WeighedCheck& check) {
  report::Json json{{"leastwise", report::report_version},
                    {"trial", check.title},
                    {"verdict", to_string(check.verdict)}};
  json["batches"] = report::json_array(check.batches, report::batch);
  json["not_weighed"] = check.not_weighed;
  return report::json_text(json);
}

}  // namespace leastwise
