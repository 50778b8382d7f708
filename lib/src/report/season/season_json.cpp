#include "report/answers.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/json_values.hpp"
#include "report/purchase_json.hpp"
#include "report/words/recipe_notes.hpp"

namespace leastwise::report {
namespace {

Json season_period(const SeasonPlan& plan, std::size_t period) {
  return plan.periods.empty() ? Json(nullptr) : Json(plan.periods[period]);
}

Json season_blend(const SeasonPlan& plan, const SeasonBlendPlan& b) {
  Json json = {{"name", b.name},
               {"period", season_period(plan, b.period)},
               {"tonnes", json_number(b.tonnes)},
               {"hectares", json_number(b.hectares)},
               {"cost", json_number(b.cost)},
               {"revenue", json_number(b.revenue)}};
  add_known(json, "marginal_cost", b.marginal_cost);
  add_known(json, "cost_alone_per_t", b.cost_alone_per_t);
  json["blend"] = b.blend ? json_blend(*b.blend) : Json(nullptr);
  json["notes"] = json_array(b.blend ? b.blend->notes : std::vector<Note>{}, json_note);
  return json;
}

Json season_shared(const SeasonPlan& plan, const SharedLimitPlan& s) {
  Json json = {{"material", s.material},
               {"side", to_string(s.side)},
               {"period", season_period(plan, s.period)},
               {"limit_kg", json_number(s.limit_kg)},
               {"used_kg", json_number(s.used_kg)},
               {"shadow_price_per_t", json_number(s.shadow_price_per_t)}};
  add_known(json, "holds_from_kg", s.holds_from_kg);
  add_known(json, "holds_to_kg", s.holds_to_kg);
  add_known(json, "price_below_per_t", s.price_below_per_t);
  add_known(json, "price_above_per_t", s.price_above_per_t);
  if (s.unique) json["unique"] = *s.unique;
  json["uses"] = json_array(s.uses, [&](const SharedUse& use) {
    return Json{{"blend", plan.blends[use.blend].name},
                {"kg", json_number(use.kg)},
                {"kg_alone", json_number(use.kg_alone)}};
  });
  json["source"] = json_place(s.place);
  if (!s.yard.empty()) json["yard"] = s.yard;
  return json;
}

Json season_transport(const SeasonTransport& load) {
  return {{"yard", load.yard},
          {"material", load.material},
          {"kg", json_number(load.kg)},
          {"cost", json_number(load.cost)}};
}

Json season_run(const SeasonRunPlan& run) {
  Json json = {{"name", run.name}, {"bins", run.bins}, {"materials", run.materials}};
  add_known(json, "saved_by_one_more", run.saved_by_one_more);
  return json;
}

std::string_view whose(SeasonConflictRule::Of of) {
  switch (of) {
    case SeasonConflictRule::Of::blend:
      return "blend";
    case SeasonConflictRule::Of::amount:
      return "amount";
    case SeasonConflictRule::Of::run:
      return "run";
    case SeasonConflictRule::Of::shared:
      break;
  }
  return "shared";
}

Json season_conflicting(const SeasonPlan& plan, const SeasonConflictRule& c) {
  Json json = {{"of", whose(c.of)}, {"name", c.name}, {"period", season_period(plan, c.period)}};
  Json rest = Json::object();
  add_known(rest, "shortfall", c.rule.shortfall);
  rest["limit"] = json_number(c.rule.limit);
  rest["unit"] = c.of != SeasonConflictRule::Of::amount ? Json(to_string(c.rule.unit))
                 : c.rule.rule == "tonnes"              ? Json("t")
                                                        : Json("ha");
  rest["source"] = json_place(c.rule.place);
  rest["detail"] = c.rule.detail.empty() ? Json(nullptr) : Json(c.rule.detail);
  add_known(rest, "ends_below", c.rule.ends_below);
  add_known(rest, "ends_above", c.rule.ends_above);
  json.update(json_rule(c.rule.rule, c.rule.id, rest));
  return json;
}

void add_one_by_one(Json& json, const SeasonPlan& plan) {
  if (!plan.one_by_one) return;
  const OneByOne& one = *plan.one_by_one;
  json["one_by_one"] = {{"status", to_string(one.status)},
                        {"cost", json_number(one.cost)},
                        {"blend", one.blend ? Json(plan.blends[*one.blend].name) : Json(nullptr)}};
}

void add_plan(Json& json, const SeasonPlan& plan) {
  json["cost"] = json_number(plan.cost);
  json["storage_cost"] = json_number(plan.storage_cost);
  json["revenue"] = json_number(plan.revenue);
  json["blends"] = json_array(plan.blends, [&](const auto& b) { return season_blend(plan, b); });
  json["shared"] = json_array(plan.shared, [&](const auto& s) { return season_shared(plan, s); });
  json["purchases"] = json_array(plan.purchases, [&](const SeasonPurchase& p) {
    return Json{{"material", p.material},
                {"period", season_period(plan, p.period)},
                {"kg", json_number(p.kg)},
                {"cost", json_number(p.cost)}};
  });
  if (!plan.by_quantity.empty()) json["by_quantity"] = json_array(plan.by_quantity, json_purchase);
  if (!plan.transport.empty()) json["transport"] = json_array(plan.transport, season_transport);
  if (!plan.runs.empty()) json["runs"] = json_array(plan.runs, season_run);
  json["cost_apart"] = json_number(plan.cost_apart);
  add_one_by_one(json, plan);
  const Certificate& c = plan.certificate;
  json["certificate"] = {{"primal_violation", json_number(c.primal_violation)},
                         {"dual_violation", json_number(c.dual_violation)},
                         {"gap", json_number(c.gap)},
                         {"linear_programs", c.nodes}};
}

void add_season_conflict(Json& json, const SeasonPlan& plan) {
  json["impossible"] = json_array(plan.impossible, [&](const ImpossibleBlend& blend) {
    return Json{{"name", blend.name},
                {"conflict", json_array(blend.conflict.rules, [&](const ConflictingRule& rule) {
                   return season_conflicting(
                       plan, {SeasonConflictRule::Of::blend, blend.blend, blend.name, 0, rule});
                 })}};
  });
  json["conflict"] =
      json_array(plan.conflict, [&](const auto& c) { return season_conflicting(plan, c); });
  json["irreducible"] = plan.irreducible;
}

}  // namespace

std::string json_of(const SeasonPlan& plan) {
  Json json = {{"leastwise", report_version},
               {"report", "season_plan"},
               {"status", to_string(plan.outcome.status)},
               {"title", plan.title},
               {"currency", plan.currency},
               {"periods", plan.periods}};
  switch (plan.outcome.status) {
    case Status::optimal:
      add_plan(json, plan);
      break;
    case Status::infeasible:
      add_season_conflict(json, plan);
      break;
    case Status::stopped:
      json["cause"] = to_string(plan.outcome.cause);
      json["detail"] = plan.outcome.detail;
      break;
  }
  return json_text(json);
}

}  // namespace leastwise::report
