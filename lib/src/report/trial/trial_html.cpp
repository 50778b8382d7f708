#include <leastwise/trial_report.hpp>

#include <fmt/format.h>

#include <string>
#include <string_view>
#include <vector>

#include "report/kit/html_page.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_mixes.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise {
namespace report {
namespace {

void cell(HtmlPage& page, std::string_view text, bool number = false) {
  page.raw(number ? "<td class=\"n\">" : "<td>").raw(escaped(text)).raw("</td>");
}

void write_batch(HtmlPage& page, const BatchCheck& batch) {
  page.element("h2",
               fmt::format("{}  {}: {}", batch.batch, batch.treatment, to_string(batch.verdict)));
  page.open_table("", {"material", ">planned g", ">weighed g", ">off by", "lot", "by"});
  for (const auto& m : batch.materials) {
    page.raw("<tr>");
    cell(page, m.material);
    cell(page, exact_grams(m.planned_mg), true);
    cell(page, plain_text(m.weighed_g, 9), true);
    cell(page, signed_percent(m.deviation_percent), true);
    cell(page, m.lot);
    cell(page, m.initials);
    page.raw("</tr>\n");
  }
  page.close_table();
  page.open_table("", {"kg/ha", "asked", ">planned", ">achieved", ">off by"});
  for (const auto& n : batch.nutrients) {
    page.raw("<tr>");
    cell(page, n.nutrient);
    cell(page, asked_text(n.rate_kg_per_ha));
    cell(page, plain_text(n.planned_kg_per_ha), true);
    cell(page, plain_text(n.achieved_kg_per_ha), true);
    cell(page, signed_percent(n.deviation_percent), true);
    page.raw("</tr>\n");
  }
  page.close_table();
  page.raw("<ul>\n");
  for (const auto& rule : batch.rules) {
    if (rule.verdict == Verdict::holds) {
      page.element("li", rule.rule + ": holds");
    } else {
      page.element("li", missed_text(rule),
                   rule.verdict == Verdict::broken ? "class=\"strong\"" : "");
    }
  }
  if (batch.rescue)
    page.element("li", capitalised(with_full_stop(batch.rescue->text)), "class=\"strong\"");
  for (const auto& note : batch.notes) {
    page.element("li", capitalised(with_full_stop(note.text)), "class=\"strong\"");
  }
  page.raw("</ul>\n");
}

}  // namespace
}  // namespace report

std::string to_html(const TrialPlan& plan, PlanPart part, Paper paper, const ScanCodeMaker& codes) {
  const bool sheets = part == PlanPart::everything;
  const ScanCodeMaker drawn = plan.labels.codes ? codes : ScanCodeMaker{};
  report::HtmlPage page(plan.title.empty() ? "Trial" : plan.title, paper,
                        std::string(report::sheet_style()) + report::label_style(plan.labels),
                        sheets ? report::form_policy() : std::string_view{});
  report::write_overview_sheet(page, plan);
  for (std::size_t s = 0; s < plan.sites.size(); ++s) {
    for (std::size_t k = 0; k < report::rounds_of(plan); ++k)
      report::write_plot_sheet(page, plan, s, k);
    for (const bool blinded : {false, true}) report::write_field_map(page, plan, s, blinded);
  }
  if (sheets) {
    for (std::size_t k = 0; k < report::rounds_of(plan); ++k) report::write_day_plan(page, plan, k);
    report::write_spreader_card(page, plan);
    std::vector<std::vector<report::PackOfPlot>> packs(plan.treatments.size());
    for (const auto& plot : plan.plots) {
      for (const auto& pack : plot.packs) packs[plot.treatment].push_back({&plot, &pack});
    }
    for (const auto& mix : plan.mixes) report::write_mix_sheet(page, plan, mix);
    for (std::size_t t = 0; t < plan.treatments.size(); ++t) {
      for (std::size_t load = 0; load < plan.treatments[t].batch_codes.size(); ++load) {
        report::write_batch_sheet(page, plan, plan.treatments[t], load, packs[t], paper, drawn);
      }
    }
    report::write_labels(page, plan, drawn);
    report::write_stakes(page, plan, drawn);
    report::write_form(page, plan);
  }
  return std::move(page).text();
}

std::string to_html(const WeighedCheck& check, Paper paper) {
  const std::string title =
      check.title.empty() ? "What was weighed" : check.title + ": what was weighed";
  report::HtmlPage page(title, paper, report::sheet_style());
  page.open_sheet("check");
  page.element("h1", title);
  for (const auto& batch : check.batches) report::write_batch(page, batch);
  if (!check.not_weighed.empty()) page.section("Not in the list", check.not_weighed);
  page.close_sheet();
  return std::move(page).text();
}

}  // namespace leastwise
