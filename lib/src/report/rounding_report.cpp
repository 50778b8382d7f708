#include <leastwise/rounding.hpp>

#include <fmt/format.h>

#include <cmath>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"
#include "report/words/rule_words.hpp"
#include "report/words/safety.hpp"

namespace leastwise::report {
namespace {

std::string batch_words(const RoundedBlend& blend) {
  if (!blend.batch_hectares) return fmt::format("a batch of {} kg", plain_text(*blend.batch_kg));
  return fmt::format("the product for {} ha, {} kg", plain_text(*blend.batch_hectares),
                     plain_text(*blend.batch_kg));
}

std::string verdict(const RoundedBlend& blend) {
  const std::string unit(unit_of_basis(blend.basis));
  const std::string cost = fmt::format("It costs {}, {} {} than off the grid.",
                                       cost_text(*blend.cost, blend.currency, unit),
                                       money_text(std::fabs(*blend.cost - *blend.exact_cost)),
                                       *blend.cost >= *blend.exact_cost ? "more" : "less");
  if (blend.feasible && blend.proved)
    return "The cheapest blend on that grid that obeys every rule. " + cost;
  if (blend.feasible)
    return "The best blend found before the limit; it obeys every rule. " + cost +
           (blend.lower_bound ? fmt::format(" None on the grid costs less than {}.",
                                            cost_text(*blend.lower_bound, blend.currency, unit))
                              : std::string{});
  if (blend.proved) return "No blend on that grid obeys every rule; this is the nearest. " + cost;
  if (blend.proven_infeasible)
    return "No blend on that grid obeys every rule; this is the nearest found before the limit. " +
           cost;
  return "No blend on that grid that obeys every rule was found before the limit; this is the "
         "nearest found. " +
         cost;
}

double off_grid_kg(const RoundedBlend& blend) {
  double kg = blend.binder->off_grid_kg_per_batch;
  for (const WeighedPortion& p : blend.portions) kg += p.exact_kg_per_batch;
  return kg;
}

/// Where the binder weighed is not what the powders ask for.
std::string binder_words(const RoundedBlend& blend) {
  const double weighed = blend.binder->kg_per_batch;
  const double asked = blend.binder->exact_kg_per_batch;
  if (std::fabs(weighed - asked) <= 1e-9 * blend.step_kg) return {};
  std::string words = fmt::format(
      "The binder is weighed in the same steps: {} kg where these powders ask for {} kg.",
      plain_text(weighed, 9), amount_text(asked));
  if (asked < blend.step_kg / 2)
    words +=
        " Powders never go without binder, so it is one step: a finer step or a larger batch "
        "comes nearer.";
  return words;
}

void write_portions(Page& page, const RoundedBlend& blend) {
  Table table;
  table.add_words("material");
  table.add_words("");
  table.add_numbers("weigh, kg");
  table.add_numbers("off the grid, kg");
  for (const WeighedPortion& p : blend.portions)
    table.add_row({p.material, p.form == Form::powder ? "powder coating" : "",
                   plain_text(p.kg_per_batch, 9), amount_text(p.exact_kg_per_batch)});
  if (blend.binder && (blend.binder->kg_per_batch > 0 || blend.binder->off_grid_kg_per_batch > 0))
    table.add_row({blend.binder->material.empty() ? "binder" : blend.binder->material, "binder",
                   plain_text(blend.binder->kg_per_batch, 9),
                   amount_text(blend.binder->off_grid_kg_per_batch)});
  table.add_row({"total", "", plain_text(*blend.batch_kg, 9), amount_text(off_grid_kg(blend))});
  page.illustrated(rounding_picture(blend), table);
}

/// What the blend has where a limit asks `limit`, with as many digits as tell the two apart.
std::string drifted_text(const RuleViolation& drift) {
  constexpr int most_digits = 12;
  for (int places = 6; places < most_digits; ++places)
    if (plain_text(drift.value, places) != plain_text(drift.limit, places))
      return limit_text(drift.value, drift.unit, places);
  return limit_text(drift.value, drift.unit, most_digits);
}

/// `grade N min 20 %: 19.8 %; coating max 2 %: 2.1 %`: each rule that gives way, and to what.
std::string drift_words(const RoundedBlend& blend) {
  std::string words;
  for (const RuleViolation& drift : blend.violations)
    words += fmt::format("{}{} {}: {}", words.empty() ? "" : "; ", drift.rule,
                         limit_text(drift.limit, drift.unit), drifted_text(drift));
  return words;
}

}  // namespace

Page page_of(const RoundedBlend& blend, Medium medium) {
  Page page(medium);
  page.title(fmt::format("Blend in steps of {} kg{}{}", plain_text(blend.step_kg),
                         blend.title.empty() ? "" : ": ", blend.title));
  write_outcome(page, blend.outcome);
  if (blend.portions.empty()) return without_goods(std::move(page));
  page.paragraph(fmt::format("For {}. {}", batch_words(blend), verdict(blend)));
  page.blank();
  write_portions(page, blend);
  if (const std::string words = binder_words(blend); !words.empty()) page.paragraph(words);
  if (!blend.violations.empty()) {
    page.heading("Rules that are not met exactly");
    for (const RuleViolation& drift : blend.violations)
      page.warning_item("  - ", fmt::format("{}: the blend has {}",
                                            rule_in_words(drift.id, drift.limit, drift.unit),
                                            drifted_text(drift)));
  }
  Blend weighed;
  weighed.basis = blend.basis;
  weighed.supply = blend.supply;
  for (const WeighedPortion& p : blend.portions) {
    if (p.kg_per_batch <= 0) continue;
    Portion portion;
    portion.material = p.material;
    portion.form = p.form;
    weighed.portions.push_back(std::move(portion));
  }
  write_supply(page, weighed);
  write_notes(page, blend.notes);
  write_safety(page, weighed.portions, weighed.supply, blend.notes);
  return page;
}

std::string svg_of(const RoundedBlend& blend) {
  const Picture picture = rounding_picture(blend);
  return svg_document({&picture, 1});
}

std::string json_of(const RoundedBlend& blend) {
  Json json = json_head("rounded_blend", blend.outcome, blend.title, blend.currency, blend.basis);
  json["step_kg"] = json_number(blend.step_kg);
  json["batch_hectares"] = json_number(blend.batch_hectares);
  json["batch_kg"] = json_number(blend.batch_kg);
  Json portions = Json::array();
  for (const WeighedPortion& p : blend.portions)
    portions.push_back({{"material", p.material},
                        {"form", to_string(p.form)},
                        {"kg_per_batch", json_number(p.kg_per_batch)},
                        {"exact_kg_per_batch", json_number(p.exact_kg_per_batch)},
                        {"cost_per_batch", json_number(p.cost_per_batch)}});
  json["portions"] = portions;
  const bool named = blend.binder && !blend.binder->material.empty();
  json["binder"] = named ? Json(blend.binder->material) : Json(nullptr);
  const auto of_binder = [&](double WeighedBinder::*figure) {
    return blend.binder ? json_number((*blend.binder).*figure) : Json(nullptr);
  };
  json["binder_kg_per_batch"] = of_binder(&WeighedBinder::kg_per_batch);
  json["exact_binder_kg_per_batch"] = of_binder(&WeighedBinder::exact_kg_per_batch);
  json["off_grid_binder_kg_per_batch"] = of_binder(&WeighedBinder::off_grid_kg_per_batch);
  json["binder_cost_per_batch"] = of_binder(&WeighedBinder::cost_per_batch);
  json["blending_cost_per_batch"] = json_number(blend.blending_cost_per_batch);
  json["exact_cost"] = json_number(blend.exact_cost);
  json["cost"] = json_number(blend.cost);
  json["obeys"] = blend.feasible;
  json["proved"] = blend.proved;
  json["none_obeys"] = blend.proven_infeasible;
  json["lower_bound"] = json_number(blend.lower_bound);
  Json drifts = Json::array();
  for (const RuleViolation& d : blend.violations)
    drifts.push_back(json_rule(d.rule, d.id,
                               {{"limit", json_number(d.limit)},
                                {"value", json_number(d.value)},
                                {"unit", to_string(d.unit)}}));
  json["drifts"] = drifts;
  json["supply"] = json_array(blend.supply, json_supply);
  json["notes"] = json_array(blend.notes, json_note);
  json["linear_programs"] = blend.solves;
  add_outcome(json, blend.outcome);
  return json_text(json);
}

std::string csv_of(const RoundedBlend& blend) {
  std::string csv =
      "obeys,material,form,kg_per_batch,exact_kg_per_batch,cost_per_batch,currency,"
      "blend_cost_per_ha,blend_cost_per_t,gives_way\n";
  const auto cost_in = [&](Basis basis) {
    return blend.basis == basis ? csv_number(blend.cost) : std::string{};
  };
  const auto add = [&](const std::string& good, std::string_view form, std::optional<double> kg,
                       std::optional<double> exact_kg, double cost) {
    csv += csv_line({blend.feasible ? "yes" : "no", good, std::string(form), csv_number(kg),
                     csv_number(exact_kg), csv_number(cost), blend.currency,
                     cost_in(Basis::per_hectare), cost_in(Basis::per_tonne), drift_words(blend)});
  };
  for (const WeighedPortion& p : blend.portions)
    add(p.material, to_string(p.form), p.kg_per_batch, p.exact_kg_per_batch, p.cost_per_batch);
  if (blend.binder && (blend.binder->kg_per_batch > 0 || blend.binder->off_grid_kg_per_batch > 0))
    add(blend.binder->material.empty() ? "binder" : blend.binder->material, "binder",
        blend.binder->kg_per_batch, blend.binder->off_grid_kg_per_batch,
        blend.binder->cost_per_batch);
  if (blend.blending_cost_per_batch.value_or(0) != 0)
    add("blending fee", "fee", {}, {}, *blend.blending_cost_per_batch);
  return csv;
}

}  // namespace leastwise::report
