#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/season/season_words.hpp"

namespace leastwise::report {
namespace {

std::string season_period_name(const SeasonPlan& plan, std::size_t period) {
  return plan.periods.empty() ? std::string() : plan.periods[period];
}

std::string known_cell(const Known<double>& value) {
  return value ? csv_number(*value) : std::string();
}

std::string portion_lines(const SeasonPlan& plan, const SeasonBlendPlan& blend) {
  std::string csv;
  const std::string period = season_period_name(plan, blend.period);
  if (!blend.blend) return csv;
  for (const auto& portion : blend.blend->portions) {
    const double kg = portion.kg_per_t * blend.tonnes;
    csv += csv_line({"portion", blend.name, period, portion.material, csv_number(portion.kg_per_t),
                     csv_number(kg), csv_number(portion.cost_per_t * blend.tonnes), "", "", ""});
  }
  if (blend.blend->binder.kg_per_t > 0)
    csv += csv_line({"binder", blend.name, period, blend.blend->binder.material,
                     csv_number(blend.blend->binder.kg_per_t),
                     csv_number(blend.blend->binder.kg_per_t * blend.tonnes),
                     csv_number(blend.blend->binder.cost_per_t * blend.tonnes), "", "", ""});
  return csv;
}

std::string plan_csv(const SeasonPlan& plan) {
  std::string csv = csv_line({"what", "blend", "period", "material", "kg_per_t", "kg", "cost",
                              "limit_kg", "price_above_per_t", "price_below_per_t"});
  for (const auto& blend : plan.blends) csv += portion_lines(plan, blend);
  for (const auto& blend : plan.blends)
    csv += csv_line({"blend", blend.name, season_period_name(plan, blend.period), "", "",
                     csv_number(blend.tonnes * 1000), csv_number(blend.cost), "", "", ""});
  for (const auto& limit : plan.shared)
    csv += csv_line({"shared " + std::string(to_string(limit.side)) +
                         (limit.yard.empty() ? "" : " from " + limit.yard),
                     "", season_period_name(plan, limit.period), limit.material, "",
                     csv_number(limit.used_kg), "", csv_number(limit.limit_kg),
                     known_cell(limit.price_above_per_t), known_cell(limit.price_below_per_t)});
  for (const auto& purchase : plan.purchases)
    csv += csv_line({"purchase", "", season_period_name(plan, purchase.period), purchase.material,
                     "", csv_number(purchase.kg), csv_number(purchase.cost), "", "", ""});
  for (const auto& load : plan.transport)
    csv += csv_line({"from " + load.yard, "", "", load.material, "", csv_number(load.kg),
                     csv_number(load.cost), "", "", ""});
  for (const auto& run : plan.runs)
    for (const auto& material : run.materials)
      csv += csv_line({"bin of " + run.name, "", "", material, "", "", "", "", "", ""});
  return csv;
}

std::string season_conflict_csv(const SeasonPlan& plan) {
  std::string csv = csv_line({"status", "name", "rule", "limit", "shortfall", "words"});
  const auto add = [&](const SeasonConflictRule& c) {
    csv += csv_line({"infeasible", c.name, c.rule.rule, csv_number(c.rule.limit),
                     known_cell(c.rule.shortfall), conflict_words(plan, c)});
  };
  for (const auto& blend : plan.impossible)
    for (const auto& rule : blend.conflict.rules)
      add({SeasonConflictRule::Of::blend, blend.blend, blend.name, 0, rule});
  for (const auto& rule : plan.conflict) add(rule);
  return csv;
}

}  // namespace

std::string csv_of(const SeasonPlan& plan) {
  switch (plan.outcome.status) {
    case Status::optimal:
      return plan_csv(plan);
    case Status::infeasible:
      return season_conflict_csv(plan);
    case Status::stopped:
      break;
  }
  return csv_line({"status", "detail"}) + csv_line({"stopped", plan.outcome.detail});
}

}  // namespace leastwise::report
