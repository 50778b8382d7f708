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
#include "report/trial/trial_text_parts.hpp"
#include "report/trial/trial_words.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise {
namespace report {
namespace {

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
        page.item(item_dash, line);
      } else {
        page.warning_item(item_dash, line);
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
    for (const auto& mix : plan.mixes) report::write_mix(page, plan, mix);
  for (const auto& treatment : plan.treatments) {
    if (treatment.state != TreatmentState::planned) {
      report::write_without_product(page, treatment);
    } else if (part == PlanPart::everything) {
      report::write_sheet(page, plan, treatment);
    }
  }
  report::write_list(page, "Store-keeping", plan.store_keeping);
  report::write_list(page, "Cautions for everybody", plan.cautions);
  report::write_list(page, "Appendix: where the rules come from", report::sources_of(plan));
  return page.text(options);
}

}  // namespace leastwise
