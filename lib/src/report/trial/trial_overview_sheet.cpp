#include <fmt/format.h>

#include <algorithm>

#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_tables.hpp"
#include "report/trial/trial_words.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

std::string state_text(const TreatmentPlan& treatment) {
  if (treatment.state == TreatmentState::nothing) return "nothing is spread";
  std::string text = not_made_text(treatment.state);
  if (treatment.state == TreatmentState::unweighable) {
    for (const auto& rule : treatment.rules)
      if (rule.verdict == Verdict::broken) text += ": " + missed_text(rule);
    return text;
  }
  if (!treatment.answer) return text;
  if (const Conflict* conflict = treatment.answer->conflict()) {
    for (const auto& rule : conflict->rules) {
      text += (&rule == &conflict->rules.front() ? ": " : "; ") +
              rule_in_words(rule.id, rule.limit, rule.unit);
    }
  } else if (const Stopped* stopped = treatment.answer->stopped()) {
    text += ": " + stopped->detail;
  }
  return text;
}

void classed_cell(HtmlPage& page, std::string_view text, std::string_view classes = {}) {
  page.raw(classes.empty() ? std::string("<td>") : fmt::format("<td class=\"{}\">", classes));
  page.raw(escaped(text));
  page.raw("</td>");
}

void write_treatments(HtmlPage& page, const TrialPlan& plan) {
  page.element("h2", "Treatments");
  page.open_table(
      "", {"", "treatment", ">kg/ha", "~>plots", ">on plots", "~>spare", ">loads", "~mixer"});
  for (const auto& t : plan.treatments) {
    page.raw("<tr>");
    classed_cell(page, t.code, "key");
    classed_cell(page, t.name);
    if (t.state != TreatmentState::planned) {
      page.raw("<td colspan=\"6\">").raw(escaped(state_text(t))).raw("</td></tr>\n");
      continue;
    }
    classed_cell(page, plain_text(t.product_kg_per_ha), "n");
    classed_cell(page, std::to_string(t.plots), "n wide");
    classed_cell(page, round_mass_text(t.packs_mg), "n");
    classed_cell(page, round_mass_text(t.spare_mg), "n wide");
    classed_cell(page, fmt::format("{} x {}", t.batch_codes.size(), round_mass_text(t.load_mg)),
                 "n");
    classed_cell(page, t.mixer, "wide");
    page.raw("</tr>\n");
  }
  page.close_table();
}

void write_trial_recipes(HtmlPage& page, const TrialPlan& plan) {
  if (plan.hold) page.section("Held equal", hold_lines(plan));
  if (const Table table = recipe_table(plan); !table.rows().empty()) {
    page.element("h2", "Recipes, kg/ha");
    write_sheet_table(page, table);
    page.element("h2", "Recipes, % of the product, grade N-P2O5-K2O and cost");
    write_sheet_table(page, grade_table(plan));
  }
  if (const Table table = application_totals(plan); !table.rows().empty()) {
    page.element("h2", "Split applications, kg/ha planned (achieved)");
    write_sheet_table(page, table);
  }
  if (const Table table = nutrient_comparison(plan); !table.rows().empty()) {
    page.element("h2", "Nutrients, kg/ha planned (achieved)");
    write_sheet_table(page, table);
    if (const auto key = comparison_key(plan); !key.empty())
      page.element("p", key, "class=\"strong\"");
  }
}

void write_purchases(HtmlPage& page, const TrialPlan& plan) {
  if (plan.purchases.empty()) return;
  page.element("h2", "To buy");
  page.open_table(
      "", {"material", "~>need kg", "~>spare kg", "~>mixes kg", "~>stock kg", ">bags", ">buy kg",
           "~>left kg", plan.currency.empty() ? std::string(">cost") : ">" + plan.currency});
  for (const auto& p : plan.purchases) {
    page.raw("<tr>");
    classed_cell(page, p.material);
    classed_cell(page, bag_kg_text(static_cast<double>(p.need_mg) / 1e6), "n wide");
    classed_cell(page, bag_kg_text(static_cast<double>(p.spare_mg) / 1e6), "n wide");
    classed_cell(page,
                 p.mix_rest_mg > 0 ? bag_kg_text(static_cast<double>(p.mix_rest_mg) / 1e6) : "",
                 "n wide");
    classed_cell(page, p.stock_kg > 0 ? bag_kg_text(p.stock_kg) : "", "n wide");
    classed_cell(page, p.bag_kg ? fmt::format("{} x {} kg", p.bags, plain_text(*p.bag_kg)) : "",
                 "n");
    classed_cell(page, bag_kg_text(p.bought_kg), "n");
    classed_cell(page, bag_kg_text(p.left_over_kg), "n wide");
    classed_cell(page, money_text(p.cost), "n");
    page.raw("</tr>\n");
  }
  page.raw("<tr><td class=\"strong\">total</td><td class=\"wide\"></td><td class=\"wide\"></td>");
  page.raw("<td class=\"wide\"></td><td class=\"wide\"></td>");
  page.raw("<td></td><td></td><td class=\"wide\"></td>");
  classed_cell(page, money_text(plan.purchase_cost), "n strong");
  page.raw("</tr>\n");
  page.close_table();
}

bool has_notes(const TrialPlan& plan) {
  const auto broken = [](const RuleCheck& rule) { return rule.verdict == Verdict::broken; };
  return !plan.notes.empty() || std::ranges::any_of(plan.treatments, [&](const TreatmentPlan& t) {
    return !t.notes.empty() || std::ranges::any_of(t.rules, broken);
  });
}

void write_treatment_notes(HtmlPage& page, const TrialPlan& plan) {
  if (!has_notes(plan)) return;
  page.element("h2", "Notes");
  page.raw("<ul>\n");
  for (const auto& note : plan.notes) page.element("li", capitalised(with_full_stop(note.text)));
  for (const auto& treatment : plan.treatments) {
    for (const auto& note : treatment.notes) {
      page.element("li", fmt::format("{}: {}", treatment.code, with_full_stop(note.text)),
                   note.level == NoteLevel::warning ? "class=\"strong\"" : "");
    }
    for (const auto& rule : treatment.rules) {
      if (rule.verdict != Verdict::broken) continue;
      page.element("li", fmt::format("{}: broken: {}", treatment.code, missed_text(rule)),
                   "class=\"strong\"");
    }
  }
  page.raw("</ul>\n");
}

}  // namespace

void write_hazards(HtmlPage& page, const TreatmentPlan& treatment) {
  bool open = false;
  for (const auto& hazard : treatment.hazards) {
    if (hazard.code == NoteCode::must_not_be_kept) continue;  // said with the day beside it
    if (!open) page.raw("<p class=\"hazards\">");
    open = true;
    page.raw("<span>").raw(escaped(hazard.text)).raw("</span> ");
  }
  if (open) page.raw("</p>\n");
}

void write_overview_sheet(HtmlPage& page, const TrialPlan& plan) {
  page.open_sheet("overview");
  page.element("h1", plan.title.empty() ? "Trial" : plan.title);
  page.element("p", fmt::format("{}; {}; spare {} %", size_text(plan), layout_text(plan),
                                plain_text(plan.spare_percent)));
  write_treatments(page, plan);
  write_trial_recipes(page, plan);
  write_purchases(page, plan);
  write_treatment_notes(page, plan);
  page.section("Cautions", plan.cautions);
  page.section("Store-keeping", plan.store_keeping);
  if (const auto sources = sources_of(plan); !sources.empty())
    page.section("Appendix: where the rules come from", sources);
  page.close_sheet();
}

void write_plot_sheet(HtmlPage& page, const TrialPlan& plan, std::size_t site,
                      std::size_t application) {
  if (!has_plots(plan, site, application)) return;
  page.open_sheet("plots");
  page.element("h1", fmt::format("Plots of {} ({})", plan.sites[site].name, plan.sites[site].code));
  if (const auto round = application_text(plan, application); !round.empty())
    page.element("p", capitalised(with_full_stop(round)), "class=\"strong\"");
  page.element("p", site_text(plan.sites[site]));
  for (const auto& line : strip_lines(plan, site))
    page.element("p", capitalised(with_full_stop(line)));
  if (const auto design = design_text(plan.sites[site]); !design.empty()) {
    page.element("p", capitalised(with_full_stop(design)));
  }
  page.open_table("", {"", "label", "~>block", "", "treatment", ">mass", "~container", "~batch"});
  for (const auto& plot : plan.plots) {
    if (plot.site != site || plot.application != application) continue;
    const auto& treatment = plan.treatments[plot.treatment];
    const bool made = treatment.state == TreatmentState::planned;
    const bool unmade = !made && treatment.state != TreatmentState::nothing;
    page.raw(unmade ? "<tr class=\"unmade\"><td></td>"
                    : "<tr><td><span class=\"box\"></span></td>");
    classed_cell(page, label_of(plan, plot), "strong key");
    classed_cell(page, block_text(plot), "n wide");
    classed_cell(page, treatment.code, "key");
    classed_cell(page, treatment.name);
    classed_cell(page, mass_of_plot_text(plot, treatment), unmade ? "n strong" : "n");
    classed_cell(page,
                 plot.packs.size() > 1 ? fmt::format("{} x {}", plot.packs.size(), plot.container)
                                       : plot.container,
                 "wide");
    classed_cell(page, batches_text(plot, treatment), "wide");
    page.raw("</tr>\n");
  }
  page.close_table();
  page.close_sheet();
}

}  // namespace leastwise::report
