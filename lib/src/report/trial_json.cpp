#include <leastwise/trial_report.hpp>

#include <nlohmann/json.hpp>
#include <optional>

#include "report/numbers.hpp"
#include "report/trial_words.hpp"

namespace leastwise {
namespace report {
namespace {

using Json = nlohmann::ordered_json;

constexpr int report_version = 1;

Json number(double value) {
  const auto whole = rounded(value);
  return whole ? Json(*whole) : Json(nullptr);
}

Json grams(std::int64_t mg) { return number(static_cast<double>(mg) / 1000); }

template <typename Items, typename Turn>
Json array(const Items& items, Turn turn) {
  Json list = Json::array();
  for (const auto& item : items) list.push_back(turn(item));
  return list;
}

Json note(const Note& n) { return {{"level", to_string(n.level)}, {"text", n.text}}; }

Json weighing(const Weighing& w) {
  return {{"material", material_name(w)},
          {"role", to_string(w.role)},
          {"target_g", number(w.target_g)},
          {"weigh_g", grams(w.mass_mg)},
          {"balance", w.balance},
          {"readability_g", grams(w.readability_mg)},
          {"parts_g", array(w.parts_mg, grams)}};
}

Json nutrient(const NutrientCheck& n) {
  return {{"nutrient", n.nutrient},
          {"required_kg_per_ha",
           {{"min", number(n.rate_kg_per_ha.min)}, {"max", number(n.rate_kg_per_ha.max)}}},
          {"planned_kg_per_ha", number(n.planned_kg_per_ha)},
          {"achieved_kg_per_ha", number(n.achieved_kg_per_ha)},
          {"deviation_percent", number(n.deviation_percent)},
          {"readability_percent", number(n.readability_percent)}};
}

Json rule(const RuleCheck& r) {
  return {{"rule", r.rule},
          {"limit", number(r.limit)},
          {"value", number(r.value)},
          {"unit", r.unit},
          {"missed_percent", number(r.missed_percent)},
          {"verdict", to_string(r.verdict)}};
}

Json coating(const std::optional<Coating>& c) {
  if (!c) return nullptr;
  return {{"powder_g", grams(c->powder_mg)},
          {"binder", c->binder},
          {"binder_g", grams(c->binder_mg)},
          {"binder_ml", number(c->binder_ml)},
          {"binder_density_kg_per_l", number(c->binder_density_kg_per_l)},
          {"density_source", c->density_source},
          {"binder_g_per_kg_powder", number(c->binder_g_per_kg_powder)},
          {"load_g_per_kg", number(c->load_g_per_kg)},
          {"percent", number(c->percent)},
          {"max_percent", number(c->max_percent)}};
}

Json premix(const Premix& p) {
  return {{"material", p.material},
          {"carrier", p.carrier.empty() ? Json(nullptr) : Json(p.carrier)},
          {"parts", p.parts},
          {"steps", array(p.steps,
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
            {"area_m2", number(t.area_m2)},
            {"plots", t.plots},
            {"product_kg_per_ha", number(t.product_kg_per_ha)},
            {"plots_g", grams(t.packs_mg)},
            {"spare_g", grams(t.spare_mg)},
            {"total_g", grams(t.total_mg)},
            {"mixer", t.mixer},
            {"load_g", grams(t.load_mg)},
            {"batches", t.batch_codes},
            {"nutrients", array(t.nutrients, nutrient)},
            {"rules", array(t.rules, rule)},
            {"notes", array(t.notes, note)},
            {"answer", answer(t)}};
  if (part == PlanPart::overview) return json;
  json["bulk_density_kg_per_m3"] = number(t.bulk_density_kg_per_m3);
  json["weighings"] = array(t.weighings, weighing);
  json["coating"] = coating(t.coating);
  json["premixes"] = array(t.premixes, premix);
  json["stop_conditions"] = array(t.stop_conditions, note);
  json["order_of_work"] = array(t.order_of_work, [](const Step& step) {
    return Json{{"text", step.text}, {"minutes", step.minutes}};
  });
  json["cautions"] = t.cautions;
  return json;
}

Json plot(const TrialPlan& plan, const Plot& p) {
  return {{"code", p.code},
          {"site", plan.sites[p.site].name},
          {"replicate", p.replicate},
          {"plot", p.number},
          {"treatment", plan.treatments[p.treatment].name},
          {"treatment_code", plan.treatments[p.treatment].code},
          {"area_m2", number(p.area_m2)},
          {"container", p.container},
          {"balance", p.balance},
          {"packs", array(p.packs, [](const Pack& pack) {
             return Json{{"label", pack.label}, {"mass_g", grams(pack.mass_mg)}};
           })}};
}

Json purchase(const Purchase& p) {
  return {{"material", p.material},
          {"need_g", grams(p.need_mg)},
          {"spare_g", grams(p.spare_mg)},
          {"bag_kg", p.bag_kg ? number(*p.bag_kg) : Json(nullptr)},
          {"bags", p.bag_kg ? Json(p.bags) : Json(nullptr)},
          {"buy_kg", number(p.bought_kg)},
          {"left_over_kg", number(p.left_over_kg)},
          {"price_per_t", number(p.price_per_t)},
          {"cost", number(p.cost)}};
}

Json batch(const BatchCheck& b) {
  return {{"batch", b.batch},
          {"treatment", b.treatment},
          {"verdict", to_string(b.verdict)},
          {"product_kg_per_ha", number(b.product_kg_per_ha)},
          {"materials", array(b.materials,
                              [](const WeighedMaterial& m) {
                                return Json{{"material", m.material},
                                            {"planned_g", grams(m.planned_mg)},
                                            {"weighed_g", number(m.weighed_g)},
                                            {"deviation_percent", number(m.deviation_percent)}};
                              })},
          {"nutrients", array(b.nutrients, nutrient)},
          {"rules", array(b.rules, rule)},
          {"notes", array(b.notes, note)}};
}

std::string text_of(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
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
            {"spare_percent", report::number(plan.spare_percent)}};
  json["treatments"] = report::array(
      plan.treatments, [part](const TreatmentPlan& t) { return report::treatment(t, part); });
  json["plots"] =
      report::array(plan.plots, [&plan](const Plot& p) { return report::plot(plan, p); });
  json["purchases"] = report::array(plan.purchases, report::purchase);
  json["purchase_cost"] = report::number(plan.purchase_cost);
  json["notes"] = report::array(plan.notes, report::note);
  json["store_keeping"] = plan.store_keeping;
  json["cautions"] = plan.cautions;
  return report::text_of(json);
}

std::string to_json(const WeighedCheck& check) {
  report::Json json{{"leastwise", report::report_version},
                    {"trial", check.title},
                    {"verdict", to_string(check.verdict)}};
  json["batches"] = report::array(check.batches, report::batch);
  json["not_weighed"] = check.not_weighed;
  return report::text_of(json);
}

}  // namespace leastwise
