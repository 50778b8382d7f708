#include <leastwise/trial_report.hpp>

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "report/kit/json_values.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_check_values.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/trial/trial_mix_json.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise {
namespace report {
namespace {

Json weighing(const Weighing& w) {
  return {{"material", material_name(w)},
          {"role", to_string(w.role)},
          {"target_g", json_number(w.target_g)},
          {"weigh_g", grams(w.mass_mg)},
          {"balance", w.balance},
          {"readability_g", grams(w.readability_mg)},
          {"parts_g", json_array(w.parts_mg, grams)}};
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

Json recipe(const TreatmentPlan& t) {
  if (t.state != TreatmentState::planned) return nullptr;
  return {{"materials", json_array(t.recipe.lines,
                                   [](const RecipeLine& line) {
                                     return Json{{"material", line.material},
                                                 {"role", to_string(line.role)},
                                                 {"kg_per_ha", json_number(line.kg_per_ha)},
                                                 {"percent", json_number(line.percent)},
                                                 {"price_per_t", json_number(line.price_per_t)},
                                                 {"cost_per_ha", json_number(line.cost_per_ha)},
                                                 {"in_loads_g", grams(line.in_loads_mg)}};
                                   })},
          {"grade_percent",
           json_array(
               t.recipe.grade,
               [](const GradePart& part) {
                 return Json{{"nutrient", part.nutrient}, {"percent", json_number(part.percent)}};
               })},
          {"cost_per_ha", json_number(t.recipe.cost_per_ha)},
          {"cost_of_loads", json_number(t.recipe.cost_of_loads)}};
}

Json compared(const TrialPlan& plan, const ComparedNutrient& n) {
  return {{"nutrient", n.nutrient},
          {"held", n.held},
          {"differs_unasked", n.differs_unasked},
          {"treatments", json_array(n.rates, [&plan](const ComparedRate& rate) {
             return Json{{"code", plan.treatments[rate.treatment].treatment_code},
                         {"planned_kg_per_ha", json_number(rate.planned_kg_per_ha)},
                         {"achieved_kg_per_ha", json_number(rate.achieved_kg_per_ha)},
                         {"differs_unasked", rate.differs_unasked}};
           })}};
}

Json hold(const TrialPlan& plan) {
  if (!plan.hold) return nullptr;
  const HoldPlan& h = *plan.hold;
  const bool solved = h.status == Status::optimal;
  Json json{{"status", to_string(h.status)}};
  json["rates"] = json_array(h.rates, [&](const HeldRate& rate) {
    return Json{{"nutrient", rate.nutrient.empty() ? Json("product") : Json(rate.nutrient)},
                {"treatments", json_array(rate.treatments,
                                          [&](std::size_t t) {
                                            return Json(plan.treatments[t].treatment_code);
                                          })},
                {"kg_per_ha", solved ? json_number(rate.kg_per_ha) : Json(nullptr)}};
  });
  json["cost"] = solved ? json_number(h.cost) : Json(nullptr);
  json["cost_apart"] = json_number(h.cost_apart);
  if (solved) {
    json["certificate"] = {{"primal_violation", json_number(h.certificate.primal_violation)},
                           {"dual_violation", json_number(h.certificate.dual_violation)},
                           {"gap", json_number(h.certificate.gap)},
                           {"nodes", h.certificate.nodes}};
  }
  if (h.status == Status::infeasible) {
    json["conflict"] = json_array(h.conflict, [&](const HoldConflictRule& r) {
      if (!r.treatment) return Json{{"hold", r.held}};
      Json rest{{"treatment", plan.treatments[*r.treatment].code},
                {"limit", json_number(r.rule.limit)},
                {"unit", to_string(r.rule.unit)}};
      add_known(rest, "shortfall", r.rule.shortfall);
      return json_rule(r.rule.rule, r.rule.id, rest);
    });
    json["irreducible"] = h.irreducible;
  }
  if (h.status == Status::stopped) json["detail"] = h.detail;
  return json;
}

Json by_size(const TrialPlan& plan, const TreatmentPlan& t) {
  return json_array(t.by_size, [&](const PlotGroup& group) {
    return Json{{"site", plan.sites[group.site].name},
                {"plots", group.plots},
                {"area_m2", json_number(group.area_m2)},
                {"pack_g", grams(group.pack_mg)}};
  });
}

Json variation(const ShareVariation& v) {
  return {{"material", v.material},
          {"granules", json_number(v.granules)},
          {"share_percent", json_number(v.share_percent)},
          {"deviation_percent", json_number(v.deviation_percent)}};
}

Json answer(const TreatmentPlan& plan) {
  const bool has_product = plan.state == TreatmentState::planned;
  if (has_product || !plan.answer) return nullptr;
  return Json::parse(to_json(*plan.answer));
}

Json treatment(const TrialPlan& plan, const TreatmentPlan& t, PlanPart part) {
  Json json{{"treatment", t.name},
            {"code", t.code},
            {"application", t.application + 1},
            {"whole_treatment_code", t.treatment_code},
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
            {"sprays", json_array(t.sprays,
                                  [&plan](const Spray& spray) {
                                    return Json{{"material", spray.material},
                                                {"kg_per_ha", json_number(spray.kg_per_ha)},
                                                {"solution_kg_per_ha",
                                                 json_number(spray.solution_kg_per_ha)},
                                                {"mix", plan.mixes[*spray.mix].code},
                                                {"plots_g", grams(spray.plots_mg)}};
                                  })},
            {"recipe", recipe(t)},
            {"by_size", by_size(plan, t)},
            {"nutrients", json_array(t.nutrients, nutrient_check)},
            {"rules", json_array(t.rules, rule_check)},
            {"notes", json_array(t.notes, json_note)},
            {"hazards", json_array(t.hazards, json_note)},
            {"same_day", t.same_day},
            {"spread_by", t.spread_by.empty() ? Json(nullptr) : Json(t.spread_by)},
            {"answer", answer(t)}};
  if (part == PlanPart::overview) return json;
  json["bulk_density_kg_per_m3"] = json_number(t.bulk_density_kg_per_m3);
  json["weighings"] = json_array(t.weighings, weighing);
  json["coating"] = coating(t.coating);
  json["premixes"] = json_premixes(plan, t);
  json["variation"] = json_array(t.variation, variation);
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
          {"block", p.block},
          {"guard", p.guard},
          {"kind", p.guard && p.strip == StripKind::none ? "guard" : to_string(p.strip)},
          {"application", p.application + 1},
          {"again", p.again},
          {"row", p.row},
          {"column", p.column},
          {"treatment", treatment.name},
          {"treatment_code", treatment.code},
          {"state", state_of_plot(treatment)},
          {"area_m2", json_number(p.area_m2)},
          {"container", p.container},
          {"balance", p.balance},
          {"sprays", json_array(p.sprays,
                                [&](const PlotSpray& spray) {
                                  const Spray& of = treatment.sprays[spray.spray];
                                  return Json{{"mix", plan.mixes[*of.mix].code},
                                              {"mass_g", grams(spray.mass_mg)},
                                              {"balance", spray.balance}};
                                })},
          {"packs", json_array(p.packs, [&](const Pack& pack) {
             const auto codes = std::span(treatment.batch_codes)
                                    .subspan(pack.first_load, pack.last_load - pack.first_load + 1);
             return Json{{"label", pack.label},
                         {"mass_g", grams(pack.mass_mg)},
                         {"batches", std::vector<std::string>(codes.begin(), codes.end())},
                         {"from_each_g", json_array(pack.sources, [](const PackSource& source) {
                            return grams(source.mass_mg);
                          })}};
           })}};
}

Json site(const Site& s) {
  const FieldLayout& field = s.field;
  return {{"name", s.name},
          {"code", s.code},
          {"replicates", s.replicates},
          {"plot_area_m2", json_number(s.plot_area_m2)},
          {"design", to_string(s.design)},
          {"block_size", s.block_size ? Json(*s.block_size) : Json(nullptr)},
          {"efficiency_factor",
           s.efficiency_factor > 0 ? json_number(s.efficiency_factor) : Json(nullptr)},
          {"columns", field.columns.value_or(0)},
          {"rows", field.rows.value_or(0)},
          {"serpentine", field.serpentine},
          {"first_plot", to_string(field.first_plot)},
          {"north_degrees", json_number(field.north_degrees)},
          {"headland_m", json_number(field.headland_m)}};
}

Json application(const Application& a) {
  return {{"name", a.name},
          {"on", a.on.empty() ? Json(nullptr) : Json(a.on)},
          {"stage", a.stage.empty() ? Json(nullptr) : Json(a.stage)}};
}

Json total(const TrialPlan& plan, const TreatmentTotal& t) {
  return {{"treatment", t.name},
          {"code", t.code},
          {"products",
           json_array(t.products, [&](std::size_t p) { return Json(plan.treatments[p].code); })},
          {"complete", t.complete},
          {"product_kg_per_ha", json_number(t.product_kg_per_ha)},
          {"cost_per_ha", json_number(t.cost_per_ha)},
          {"nutrients", json_array(t.nutrients, [](const TotalNutrient& n) {
             return Json{{"nutrient", n.nutrient},
                         {"planned_kg_per_ha", json_number(n.planned_kg_per_ha)},
                         {"achieved_kg_per_ha", json_number(n.achieved_kg_per_ha)},
                         {"each_kg_per_ha", json_array(n.each_kg_per_ha, json_number)}};
           })}};
}

Json day_task(const DayTask& task) {
  return {{"application", task.application + 1},
          {"treatment_code", task.treatment.empty() ? Json(nullptr) : Json(task.treatment)},
          {"batch", task.batch.empty() ? Json(nullptr) : Json(task.batch)},
          {"text", task.text},
          {"minutes", task.minutes},
          {"ends_after_minutes", task.ends_after}};
}

Json spreader(const TrialPlan& plan) {
  if (!plan.spreader) return nullptr;
  Json rates = Json::array();
  for (const auto& treatment : plan.treatments) {
    if (treatment.state != TreatmentState::planned) continue;
    rates.push_back({{"treatment_code", treatment.code},
                     {"kg_per_100_m", json_number(kg_per_100_m(treatment, *plan.spreader))}});
  }
  return {{"working_width_m", json_number(plan.spreader->working_width_m)},
          {"hopper_kg", json_number(plan.spreader->hopper_kg)},
          {"rates", std::move(rates)}};
}

Json purchase(const Purchase& p) {
  return {{"material", p.material},
          {"need_g", grams(p.need_mg)},
          {"spare_g", grams(p.spare_mg)},
          {"in_mixes_g", grams(p.mix_rest_mg)},
          {"stock_kg", json_number(p.stock_kg)},
          {"from_stock_kg", json_number(p.from_stock_kg)},
          {"bag_kg", p.bag_kg ? json_number(*p.bag_kg) : Json(nullptr)},
          {"bags", p.bag_kg ? Json(p.bags) : Json(nullptr)},
          {"buy_kg", json_number(p.bought_kg)},
          {"left_over_kg", json_number(p.left_over_kg)},
          {"price_per_t", json_number(p.price_per_t)},
          {"cost", json_number(p.cost)}};
}

}  // namespace
}  // namespace report

std::string to_json(const TrialPlan& plan, PlanPart part) {
  using report::Json;
  Json json{{"leastwise", report::report_version},
            {"report", "trial_plan"},
            {"trial", plan.title},
            {"code", plan.code},
            {"currency", plan.currency},
            {"complete", plan.complete()},
            {"seed", plan.seed ? Json(*plan.seed) : Json(nullptr)},
            {"mixed_on", plan.mixed_on.empty() ? Json(nullptr) : Json(plan.mixed_on)},
            {"spare_percent", report::json_number(plan.spare_percent)},
            {"sample_g", report::json_number(plan.sample_g)},
            {"plan", plan.fingerprint}};
  json["applications"] = report::json_array(plan.applications, report::application);
  json["totals"] = report::json_array(
      plan.totals, [&plan](const TreatmentTotal& t) { return report::total(plan, t); });
  json["hold"] = report::hold(plan);
  json["nutrients"] = report::json_array(
      plan.nutrients, [&plan](const ComparedNutrient& n) { return report::compared(plan, n); });
  json["mixes"] = report::json_array(plan.mixes, report::json_mix);
  json["sites"] = report::json_array(plan.sites, report::site);
  json["treatments"] = report::json_array(plan.treatments, [&plan, part](const TreatmentPlan& t) {
    return report::treatment(plan, t, part);
  });
  json["plots"] =
      report::json_array(plan.plots, [&plan](const Plot& p) { return report::plot(plan, p); });
  json["day_plan"] = report::json_array(plan.day_plan, report::day_task);
  json["spreader"] = report::spreader(plan);
  json["purchases"] = report::json_array(plan.purchases, report::purchase);
  json["purchase_cost"] = report::json_number(plan.purchase_cost);
  json["notes"] = report::json_array(plan.notes, report::json_note);
  json["store_keeping"] = plan.store_keeping;
  json["cautions"] = plan.cautions;
  return report::json_text(json);
}

}  // namespace leastwise
