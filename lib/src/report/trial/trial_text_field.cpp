#include "report/trial/trial_text_parts.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/table.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

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

}  // namespace

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
  for (const auto& line : spreader_lines(plan)) page.item(item_dash, line);
  for (const auto& treatment : plan.treatments) {
    if (treatment.state != TreatmentState::planned) continue;
    page.item(item_dash, fmt::format("{}: {} kg per 100 m", treatment.code,
                                     plain_text(kg_per_100_m(treatment, *plan.spreader), 4)));
  }
}

}  // namespace leastwise::report
