#include <leastwise/trial_report.hpp>

#include <fmt/format.h>

#include <algorithm>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/page.hpp"
#include "report/kit/sections.hpp"
#include "report/kit/table.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_mixes.hpp"
#include "report/trial/trial_tables.hpp"
#include "report/trial/trial_words.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise {
namespace report {
namespace {

constexpr std::string_view dash = "  - ";

void write_note(Page& page, const Note& note) {
  if (note.level == NoteLevel::info) {
    page.item(dash, capitalised(with_full_stop(note.text)));
  } else {
    page.warning_item(dash,
                      fmt::format("{}: {}", to_string(note.level), with_full_stop(note.text)));
  }
}

void write_condition(Page& page, const Note& note) {
  const std::string text = fmt::format("{}: {}", sheet_word(note), with_full_stop(note.text));
  if (note.level == NoteLevel::info) {
    page.item(dash, text);
  } else {
    page.warning_item(dash, text);
  }
}

void write_list(Page& page, std::string_view heading, const std::vector<std::string>& lines) {
  if (lines.empty()) return;
  page.heading(heading);
  for (const auto& line : lines) page.item(dash, line);
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
      page.warning_item(dash, "broken: " + missed_text(rule));
    } else {
      page.item(dash, missed_text(rule));
    }
  }
  if (held == rules.size() && held > 0) {
    page.item(dash, fmt::format("all {} rules hold", held));
  } else if (held > 0) {
    page.item(dash, fmt::format("{} of {} rules hold to the last digit", held, rules.size()));
  }
}

void write_amounts(Page& page, const TrialPlan& trial, const TreatmentPlan& plan) {
  page.item("  ", fmt::format("{} plots, {} m2, at {} kg/ha of product", plan.plots,
                              plain_text(plan.area_m2, 9), plain_text(plan.product_kg_per_ha)));
  page.item("  ", fmt::format("plots {} + spare {} = {} in {}", exact_kg(plan.packs_mg),
                              exact_kg(plan.spare_mg), exact_kg(plan.total_mg), loads_text(plan)));
  for (const auto& line : by_hand(trial, plan)) page.item("  ", line);
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
    if (!parts.empty()) page.item(dash, material_name(weighing) + " " + parts);
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

void write_conflict_rules(Page& page, const TreatmentPlan& plan) {
  if (!plan.answer) return;
  if (const Conflict* conflict = plan.answer->conflict()) {
    page.item("  ", "no blend obeys these rules together:");
    for (const auto& rule : conflict->rules) {
      std::string text = rule_in_words(rule.id, rule.limit, rule.unit);
      if (!rule.detail.empty()) text += ": " + rule.detail;
      page.item(dash, text + place_text(rule.place));
    }
  } else if (const Stopped* stopped = plan.answer->stopped()) {
    page.item("  ", stopped->detail);
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

Table treatment_table(const TrialPlan& plan) {
  Table table;
  table.add_words("");
  table.add_words("treatment");
  for (const auto* heading : {"kg/ha", "plots"}) table.add_numbers(heading);
  for (const auto* heading : {"on plots", "spare", "loads", "mixer"}) table.add_words(heading);
  for (const auto& t : plan.treatments) {
    if (t.state != TreatmentState::planned) {
      table.add_row({t.code, t.name, "", std::to_string(t.plots),
                     t.state == TreatmentState::nothing ? "nothing" : "NOT MADE"});
      continue;
    }
    table.add_row({t.code, t.name, plain_text(t.product_kg_per_ha), std::to_string(t.plots),
                   round_mass_text(t.packs_mg), round_mass_text(t.spare_mg),
                   fmt::format("{} x {}", t.batch_codes.size(), round_mass_text(t.load_mg)),
                   t.mixer});
  }
  return table;
}

Table plot_table(const TrialPlan& plan, std::size_t site, std::size_t application) {
  Table table;
  for (const auto* heading : {"label", "block", "treatment", "", "mass", "container", "batch"}) {
    table.add_words(heading);
  }
  for (const auto& plot : plan.plots) {
    if (plot.site != site || plot.application != application) continue;
    const auto& treatment = plan.treatments[plot.treatment];
    table.add_row({label_of(plan, plot), block_text(plot), treatment.code, treatment.name,
                   mass_of_plot_text(plot, treatment),
                   plot.packs.size() > 1 ? fmt::format("{} x {}", plot.packs.size(), plot.container)
                                         : plot.container,
                   batches_text(plot, treatment)});
  }
  return table;
}

Table purchase_table(const TrialPlan& plan) {
  Table table;
  table.add_words("material");
  for (const auto* heading : {"need kg", "spare kg", "mixes kg", "stock kg", "bags"})
    table.add_numbers(heading);
  table.add_words("of");
  for (const auto* heading : {"buy kg", "left kg"}) table.add_numbers(heading);
  table.add_numbers(plan.currency.empty() ? "cost" : plan.currency);
  for (const auto& p : plan.purchases) {
    table.add_row({p.material, bag_kg_text(static_cast<double>(p.need_mg) / 1e6),
                   bag_kg_text(static_cast<double>(p.spare_mg) / 1e6),
                   p.mix_rest_mg > 0 ? bag_kg_text(static_cast<double>(p.mix_rest_mg) / 1e6) : "",
                   p.stock_kg > 0 ? bag_kg_text(p.stock_kg) : "",
                   p.bag_kg ? std::to_string(p.bags) : "",
                   p.bag_kg ? plain_text(*p.bag_kg) + " kg" : "", bag_kg_text(p.bought_kg),
                   bag_kg_text(p.left_over_kg), money_text(p.cost)});
  }
  table.add_row({"total", "", "", "", "", "", "", "", "", money_text(plan.purchase_cost)});
  return table;
}

void write_trial_recipes(Page& page, const TrialPlan& plan) {
  if (plan.hold) {
    page.heading("Held equal");
    for (const auto& line : hold_lines(plan)) {
      if (plan.hold->status == Status::optimal) {
        page.item(dash, line);
      } else {
        page.warning_item(dash, line);
      }
    }
  }
  if (const Table table = recipe_table(plan); !table.rows().empty()) {
    page.heading("Recipes, kg/ha");
    page.table(table);
    page.heading("Recipes, % of the product, grade N-P2O5-K2O and cost");
    page.table(grade_table(plan));
  }
  if (const Table table = application_totals(plan); !table.rows().empty()) {
    page.heading("Split applications, kg/ha planned (achieved)");
    page.table(table);
  }
  if (const Table table = nutrient_comparison(plan); !table.rows().empty()) {
    page.heading("Nutrients, kg/ha planned (achieved)");
    page.table(table);
    if (const auto key = comparison_key(plan); !key.empty()) page.warning_item("  ", key);
  }
}

void write_plots(Page& page, const TrialPlan& plan, std::size_t s, std::size_t application) {
  if (!has_plots(plan, s, application)) return;
  const Site& site = plan.sites[s];
  const std::string round = application_text(plan, application);
  page.heading(
      fmt::format("Plots of {} ({}){}{}", site.name, site.code, round.empty() ? "" : ", ", round));
  if (application == 0) {
    page.item("  ", site_text(site));
    if (const auto design = design_text(site); !design.empty()) page.item("  ", design);
    for (const auto& line : strip_lines(plan, s)) page.item("  ", line);
  }
  page.table(plot_table(plan, s, application));
}

void write_overview(Page& page, const TrialPlan& plan) {
  page.heading("Treatments");
  page.table(treatment_table(plan));
  write_trial_recipes(page, plan);
  for (std::size_t s = 0; s < plan.sites.size(); ++s)
    for (std::size_t k = 0; k < rounds_of(plan); ++k) write_plots(page, plan, s, k);
  if (!plan.purchases.empty()) {
    page.heading("To buy");
    page.table(purchase_table(plan));
  }
  if (!plan.notes.empty()) {
    page.heading("Notes");
    for (const auto& note : plan.notes) write_note(page, note);
  }
}

Table day_table(const TrialPlan& plan, std::size_t application) {
  Table table;
  for (const auto* heading : {"", "batch", "what to do"}) table.add_words(heading);
  for (const auto* heading : {"min", "done after h:min"}) table.add_numbers(heading);
  for (const auto& task : plan.day_plan) {
    if (task.application != application) continue;
    table.add_row({task.treatment, task.batch, task.text, std::to_string(task.minutes),
                   clock_text(task.ends_after)});
  }
  return table;
}

void write_day(Page& page, const TrialPlan& plan) {
  for (std::size_t k = 0; k < rounds_of(plan); ++k) {
    const Table table = day_table(plan, k);
    if (table.rows().empty()) continue;
    const std::string round = application_text(plan, k);
    page.heading("Day plan" + (round.empty() ? "" : ", " + round) +
                 " (minutes about, common practice)");
    page.table(table);
  }
  if (!plan.spreader) return;
  page.heading("Spreader");
  for (const auto& line : spreader_lines(plan)) page.item(dash, line);
  for (const auto& treatment : plan.treatments) {
    if (treatment.state != TreatmentState::planned) continue;
    page.item(dash, fmt::format("{}: {} kg per 100 m", treatment.code,
                                plain_text(kg_per_100_m(treatment, *plan.spreader), 4)));
  }
}

}  // namespace
}  // namespace report

std::string hold_text(const TrialPlan& plan) {
  if (!plan.hold) return {};
  report::Page page;
  page.heading("Held equal");
  for (const auto& line : report::hold_lines(plan)) page.item("  - ", line);
  return page.text({});
}

std::string to_text(const TrialPlan& plan, PlanPart part, const ReportOptions& options) {
  report::Page page;
  page.title(plan.title.empty() ? "Trial" : plan.title);
  page.paragraph(fmt::format("{}, {}; spare {} %", report::size_text(plan),
                             report::layout_text(plan), report::plain_text(plan.spare_percent)));
  report::write_overview(page, plan);
  if (part == PlanPart::everything) report::write_day(page, plan);
  if (part == PlanPart::everything)
    for (const auto& mix : plan.mixes) report::write_mix(page, mix);
  for (const auto& treatment : plan.treatments) {
    if (treatment.state != TreatmentState::planned) {
      report::write_without_product(page, treatment);
    } else if (part == PlanPart::everything) {
      report::write_sheet(page, plan, treatment);
    }
  }
  report::write_list(page, "Store-keeping", plan.store_keeping);
  report::write_list(page, "Cautions for everybody", plan.cautions);
  return page.text(options);
}

}  // namespace leastwise
