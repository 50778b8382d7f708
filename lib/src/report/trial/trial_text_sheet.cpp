#include "report/trial/trial_text_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/kit/table.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_solutions.hpp"
#include "report/trial/trial_tables.hpp"
#include "report/trial/trial_words.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

void write_condition(Page& page, const Note& note) {
  const std::string text = fmt::format("{}: {}", sheet_word(note), with_full_stop(note.text));
  if (note.level == NoteLevel::info) {
    page.item(item_dash, text);
  } else {
    page.warning_item(item_dash, text);
  }
}

Table weighing_table(const TreatmentPlan& plan) {
  Table table;
  for (const auto* heading : {"done", "material", "", "weigh", "on"}) table.add_words(heading);
  for (const auto* heading : {"lot", "actual g", "by"}) table.add_words(heading);
  for (const auto& weighing : plan.weighings) {
    table.add_row({"[ ]", material_name(weighing),
                   weighing.mix                     ? "stock mix"
                   : weighing.role == Role::granule ? ""
                                                    : std::string(to_string(weighing.role)),
                   mass_text(weighing.mass_mg, weighing.readability_mg), weighing.balance, "______",
                   "______", "___"});
  }
  return table;
}

Table nutrient_table(const TreatmentPlan& plan) {
  Table table;
  table.add_words("");
  table.add_words("asked, kg/ha");
  for (const auto* heading : {"planned", "achieved"}) table.add_numbers(heading);
  table.add_words("off by");
  for (const auto& check : plan.nutrients) {
    table.add_row({check.nutrient, asked_text(check.rate_kg_per_ha),
                   plain_text(check.planned_kg_per_ha), plain_text(check.achieved_kg_per_ha),
                   signed_percent(check.deviation_percent)});
  }
  return table;
}

void write_rules(Page& page, const std::vector<RuleCheck>& rules) {
  std::size_t held = 0;
  for (const auto& rule : rules) {
    if (rule.verdict == Verdict::holds) {
      ++held;
    } else if (rule.verdict == Verdict::broken) {
      page.warning_item(item_dash, "broken: " + missed_text(rule));
    } else {
      page.item(item_dash, missed_text(rule));
    }
  }
  if (held == rules.size() && held > 0) {
    page.item(item_dash, fmt::format("all {} rules hold", held));
  } else if (held > 0) {
    page.item(item_dash, fmt::format("{} of {} rules hold to the last digit", held, rules.size()));
  }
}

void write_amounts(Page& page, const TrialPlan& trial, const TreatmentPlan& plan) {
  page.item("  ", fmt::format("{} plots, {} m2, at {} kg/ha of product", plan.plots,
                              plain_text(plan.area_m2, 9), plain_text(plan.product_kg_per_ha)));
  page.item("  ", fmt::format("plots {} + spare {} = {} in {}", exact_kg(plan.packs_mg),
                              exact_kg(plan.spare_mg), exact_kg(plan.total_mg), loads_text(plan)));
  for (const auto& line : by_hand(trial, plan)) page.item("  ", line);
  for (const auto& line : spray_lines(trial, plan)) page.warning_item("  ", line);
  page.item("  ",
            fmt::format("mixer {} ({}); about {} kg per cubic metre", plan.mixer,
                        to_string(plan.mixer_kind), plain_text(plan.bulk_density_kg_per_m3, 3)));
  if (plan.batch_codes.size() < 2) {
    page.item("  ", "batch " + plan.batch_codes.front());
  } else {
    page.item("  ", fmt::format("batches {} to {}, each by this sheet", plan.batch_codes.front(),
                                plan.batch_codes.back()));
  }
}

void write_conflict_rules(Page& page, const TreatmentPlan& plan) {
  if (!plan.answer) return;
  if (const Conflict* conflict = plan.answer->conflict()) {
    page.item("  ", "no blend obeys these rules together:");
    for (const auto& rule : conflict->rules) {
      std::string text = rule_in_words(rule.id, rule.limit, rule.unit);
      if (!rule.detail.empty()) text += ": " + rule.detail;
      page.item(item_dash, text + place_text(rule.place));
    }
  } else if (const Stopped* stopped = plan.answer->stopped()) {
    page.item("  ", stopped->detail);
  }
}

}  // namespace

void write_note(Page& page, const Note& note) {
  if (note.level == NoteLevel::info) {
    page.item(item_dash, capitalised(with_full_stop(note.text)));
  } else {
    page.warning_item(item_dash,
                      fmt::format("{}: {}", to_string(note.level), with_full_stop(note.text)));
  }
}

void write_list(Page& page, std::string_view heading, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  page.heading(heading);
  for (const auto& line : lines) page.item(item_dash, line);
}

void write_sheet(Page& page, const TrialPlan& trial, const TreatmentPlan& plan) {
  page.heading(fmt::format("{}  {}", plan.code, plan.name));
  if (const auto round = application_text(trial, plan.application); !round.empty())
    page.item("  ", round);
  write_amounts(page, trial, plan);
  for (const auto& hazard : plan.hazards) {
    // The day to spread by stands below.
    if (hazard.code != NoteCode::must_not_be_kept) page.warning_item("  ", hazard.text);
  }
  if (plan.same_day) {
    page.warning_item("  ", spread_by_text(plan));
  } else {
    page.item("  ", spread_by_text(plan));
  }
  if (!plan.stop_conditions.empty()) {
    page.heading("Before weighing");
    for (const auto& note : plan.stop_conditions) write_condition(page, note);
  }
  write_list(page, "Cautions", texts_of(plan.cautions));
  page.heading("Weigh for each load");
  page.table(weighing_table(plan));
  for (const auto& weighing : plan.weighings) {
    const std::string parts = parts_text(weighing);
    if (!parts.empty()) page.item(item_dash, material_name(weighing) + " " + parts);
  }
  if (plan.coating) write_list(page, "Coating", coating_lines(*plan.coating));
  page.heading("Order of work (times about, common practice)");
  for (std::size_t i = 0; i < plan.order_of_work.size(); ++i) {
    const Step& step = plan.order_of_work[i];
    page.item(fmt::format("  {}. ", i + 1),
              step.text + (step.minutes > 0 ? fmt::format(" ({} min)", step.minutes) : ""));
  }
  page.heading("Achieved on the plots");
  page.table(nutrient_table(plan));
  write_rules(page, plan.rules);
  for (const auto& note : plan.notes) {
    const auto& said = plan.stop_conditions;
    if (std::find(said.begin(), said.end(), note) == said.end()) write_note(page, note);
  }
}

void write_without_product(Page& page, const TreatmentPlan& plan) {
  page.heading(fmt::format("{}  {}", plan.code, plan.name));
  if (plan.state == TreatmentState::nothing) {
    page.item("  ", fmt::format("{} plots, {} m2: nothing is spread", plan.plots,
                                plain_text(plan.area_m2, 9)));
    return;
  }
  page.warning("  " + not_made_text(plan.state));
  write_conflict_rules(page, plan);
  if (plan.state != TreatmentState::unweighable) return;
  write_rules(page, plan.rules);
  for (const auto& note : plan.notes) write_note(page, note);
}

}  // namespace leastwise::report
