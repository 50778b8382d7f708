#include <leastwise/hazard.hpp>

#include <algorithm>
#include <optional>

#include "report/answers.hpp"
#include "report/blend_json.hpp"
#include "report/declared_json.hpp"
#include "report/indices_section.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/json_values.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/purchase_json.hpp"
#include "report/why_json.hpp"

namespace leastwise::report {
namespace {

/// Proof errors below this are noise of the last bits; they are stated as this bound.
constexpr double proof_noise = 1e-12;

Json bound(double value) { return json_number(std::max(value, proof_noise)); }

Json portion(const Portion& p) {
  return {{"material", p.material},
          {"form", to_string(p.form)},
          {"kg_per_ha", json_number(p.kg_per_ha)},
          {"kg_per_t", json_number(p.kg_per_t)},
          {"cost_per_t", json_number(p.cost_per_t)},
          {"cost_per_ha", json_number(p.cost_per_ha)}};
}

Json binding(const BindingRule& b) {
  Json json = {{"limit", json_number(b.limit)},
               {"shadow_price", json_number(b.shadow_price)},
               {"unit", b.unit}};
  add_known(json, "holds_from", b.holds_from);
  add_known(json, "holds_to", b.holds_to);
  if (b.unique) json["unique"] = *b.unique;
  json["known_sides"] = to_string(known_sides(b));
  add_known(json, "price_below", b.price_below);
  add_known(json, "price_above", b.price_above);
  json["source"] = json_place(b.place);
  json["declared"] = json_number(b.declared);
  return json_rule(b.rule, b.id, json);
}

Json unused(const UnusedMaterial& u) {
  Json json = {{"material", u.material}, {"price_per_t", json_number(u.price_per_t)}};
  add_known(json, "enters_below_price_per_t", u.enters_below_price_per_t);
  json["why"] = u.why;
  return json;
}

Json exclusion(const ExclusionCost& e) {
  return {{"pair", {e.family_a, e.family_b}},
          {"reason", e.reason},
          {"costs_per_t", json_number(e.costs_per_t)},
          {"costs_per_ha", json_number(e.costs_per_ha)},
          {"source", e.source.empty() ? Json(nullptr) : Json(e.source)},
          {"lifted_by", e.lifted_by.empty() ? Json(nullptr) : Json(e.lifted_by)}};
}

Json conflicting(const ConflictingRule& r) {
  Json json = Json::object();
  add_known(json, "shortfall", r.shortfall);
  json["unit"] = to_string(r.unit);
  json["limit"] = json_number(r.limit);
  json["source"] = json_place(r.place);
  json["detail"] = r.detail.empty() ? Json(nullptr) : Json(r.detail);
  add_known(json, "ends_below", r.ends_below);
  add_known(json, "ends_above", r.ends_above);
  return json_rule(r.rule, r.id, json);
}

Json change(const Change& c) {
  return json_rule(c.rule, c.id,
                   {{"from", json_number(c.from)},
                    {"to", json_number(c.to)},
                    {"unit", to_string(c.unit)},
                    {"source", json_place(c.place)}});
}

template <class Answer>
Json head(Status status, const Answer& answer) {
  Json json = {{"leastwise", report_version},
               {"report", "blend"},
               {"status", to_string(status)},
               {"title", answer.title},
               {"currency", answer.currency}};
  if (answer.units != Units::metric) json["units"] = to_string(answer.units);
  return json;
}

/// What a blend of a scenario in US units holds, in these.
Json us_figures(const Blend& metric) {
  const Formulation own = in_own_units(Formulation(metric));
  const Blend& blend = *own.blend();
  const auto portion = [](const Portion& p) -> Json {
    return {{"material", p.material},
            {"lb_per_acre", json_number(p.kg_per_ha)},
            {"lb_per_short_ton", json_number(p.kg_per_t)},
            {"cost_per_short_ton", json_number(p.cost_per_t)},
            {"cost_per_acre", json_number(p.cost_per_ha)}};
  };
  const auto supply = [](const Supply& s) -> Json {
    return {{"nutrient", s.nutrient},
            {"lb_per_acre", json_number(s.kg_per_ha)},
            {"effective_lb_per_acre", json_number(s.effective_kg_per_ha)}};
  };
  return {{"cost_per_acre", json_number(blend.cost_per_ha)},
          {"cost_per_short_ton", json_number(blend.cost_per_t)},
          {"total_lb_per_acre", json_number(blend.total_kg_per_ha)},
          {"portions", json_array(blend.portions, portion)},
          {"supply", json_array(blend.supply, supply)},
          {"binding", json_array(blend.binding, binding)},
          {"cost_per_nutrient", json_nutrient_costs(blend.cost_per_nutrient, Units::us)}};
}

Json binder(const BinderUse& b) {
  if (b.kg_per_t == 0) return nullptr;
  return {{"material", b.material.empty() ? Json(nullptr) : Json(b.material)},
          {"kg_per_ha", json_number(b.kg_per_ha)},
          {"kg_per_t", json_number(b.kg_per_t)},
          {"cost_per_t", json_number(b.cost_per_t)}};
}

Json breakdown(const CostBreakdown& b) {
  return {{"materials_per_t", json_number(b.materials_per_t)},
          {"freight_per_t", json_number(b.freight_per_t)},
          {"binder_per_t", json_number(b.binder_per_t)},
          {"blending_per_t", json_number(b.blending_per_t)}};
}

/// Upper bounds: what is below the noise of the arithmetic is stated as that noise.
Json certificate(const Certificate& c) {
  return {{"primal_violation", bound(c.primal_violation)},
          {"dual_violation", bound(c.dual_violation)},
          {"gap", bound(c.gap)},
          {"linear_programs", c.nodes}};
}

Json document(const Blend& blend) {
  Json json = head(Status::optimal, blend);
  json["cost_per_ha"] = json_number(blend.cost_per_ha);
  json["cost_per_t"] = json_number(blend.cost_per_t);
  json["total_kg_per_ha"] = json_number(blend.total_kg_per_ha);
  json["portions"] = json_array(blend.portions, portion);
  json["supply"] = json_array(blend.supply, json_supply);
  json["binding"] = json_array(blend.binding, binding);
  json["unused"] = json_array(blend.unused, unused);
  json["exclusions"] = json_array(blend.exclusions, exclusion);
  json["notes"] = json_array(blend.notes, json_note);
  json["binder"] = binder(blend.binder);
  json["breakdown"] = breakdown(blend.breakdown);
  json["certificate"] = certificate(blend.certificate);
  json["binding_complete"] = blend.binding_complete;
  json["exclusions_complete"] = blend.exclusions_complete;
  json["cost_parts"] = json_array(blend.cost_parts, json_cost_part);
  json["cost_parts_add_up"] = blend.cost_parts_add_up;
  json["cost_per_nutrient"] = json_nutrient_costs(blend.cost_per_nutrient, Units::metric);
  if (!blend.purchases.empty()) json["purchases"] = json_array(blend.purchases, json_purchase);
  if (blend.declared) json["declared"] = json_declared(*blend.declared);
  if (blend.indices) json["indices"] = json_indices(*blend.indices);
  if (!blend.why.empty()) json["why"] = json_array(blend.why, json_why);
  if (blend.units == Units::us) json["us"] = us_figures(blend);
  return json;
}

Json document(const Conflict& conflict) {
  Json json = head(Status::infeasible, conflict);
  json["conflict"] = json_array(conflict.rules, conflicting);
  json["irreducible"] = conflict.irreducible;
  json["nearest"] = json_array(conflict.nearest, change);
  json["nearest_cost_per_ha"] = json_number(conflict.nearest_cost_per_ha);
  json["nearest_cost_per_t"] = json_number(conflict.nearest_cost_per_t);
  json["notes"] = json_array(conflict.notes, json_note);
  json["nearest_is_least"] = conflict.nearest_is_least;
  if (conflict.nearest_blend.is_computed())
    json["nearest_blend"] =
        conflict.nearest_blend ? json_blend(*conflict.nearest_blend) : Json(nullptr);
  return json;
}

Json document(const Stopped& stopped) {
  Json json = head(Status::stopped, stopped);
  json["cause"] = to_string(stopped.cause);
  json["detail"] = stopped.detail;
  json["best_cost"] = json_number(stopped.best_cost);
  json["lower_bound"] = json_number(stopped.lower_bound);
  json["cost_basis"] = stopped.basis == Basis::per_hectare ? "ha" : "t";
  json["best_portions"] = json_array(stopped.best_portions, portion);
  json["notes"] = json_array(stopped.notes, json_note);
  return json;
}

Json document_of(const Formulation& answer) {
  if (const Blend* blend = answer.blend()) return document(*blend);
  if (const Conflict* conflict = answer.conflict()) return document(*conflict);
  return document(*answer.stopped());
}

Json hazard(const Hazard& h) {
  return {{"class", to_string(h.kind)},
          {"element", h.detail.empty() ? Json(nullptr) : Json(h.detail)},
          {"because", h.reason},
          {"doubt", h.doubt},
          {"source", h.source}};
}

Json material(const Material& m) {
  return {{"material", m.name},
          {"family", m.family},
          {"form", to_string(m.form)},
          {"contains_percent",
           [&] {
             Json contents = Json::object();
             for (const Content& content : m.contains_percent) {
               contents[content.name] = json_number(content.percent);
             }
             return contents;
           }()},
          {"sgn", json_number(m.sgn)},
          {"bulk_density_kg_per_m3", json_number(m.bulk_density_kg_per_m3)},
          {"source", m.source.empty() ? Json(nullptr) : Json(m.source)},
          {"hazards", json_array(hazards_of(m), hazard)}};
}

}  // namespace

Json json_formulation(const Formulation& answer) { return document_of(answer); }

std::string json_of(const Formulation& answer) { return json_text(document_of(answer)); }

std::string json_of(const ProvenFormulation& proven) {
  Json json = document_of(proven.answer);
  json["proof"] = proven.proof ? Json::parse(to_json(*proven.proof)) : Json(nullptr);
  json["why_no_proof"] = proven.proof ? Json(nullptr) : Json(proven.why_no_proof);
  return json_text(json);
}

std::string json_of(std::span<const Material> materials) {
  Json json = {{"leastwise", report_version}, {"report", "materials"}};
  json["materials"] = json_array(materials, material);
  return json_text(json);
}

}  // namespace leastwise::report
