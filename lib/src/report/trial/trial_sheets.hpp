#pragma once
#include <leastwise/trial_plan.hpp>
#include <leastwise/trial_report.hpp>

#include <cstddef>
#include <span>
#include <string>
#include <string_view>

#include "report/kit/html_page.hpp"

namespace leastwise::report {

/// Treatments, purchases, notes, cautions and store-keeping: the first sheet.
void write_overview_sheet(HtmlPage& page, const TrialPlan& plan);

/// The plots of one site with the codes of their labels; those that `application` is for.
void write_plot_sheet(HtmlPage& page, const TrialPlan& plan, std::size_t site,
                      std::size_t application);

/// A pack of a treatment and the plot it is for.
struct PackOfPlot {
  const Plot* plot = nullptr;
  const Pack* pack = nullptr;
};

/// One batch, to be followed with a pen in hand. `packs` are those of the treatment, in order.
void write_batch_sheet(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment,
                       std::size_t load, std::span<const PackOfPlot> packs, Paper paper,
                       const ScanCodeMaker& codes);

/// The cells of a weighing that are filled in by hand: lot, actual mass in `unit`, initials.
void write_blanks(HtmlPage& page, std::string_view unit);

/// The hazards of a product in boxes; nothing where there are none.
void write_hazards(HtmlPage& page, const TreatmentPlan& treatment);

/// Where each plot of a site stands, with what it gets and the key, or `blinded` without.
void write_field_map(HtmlPage& page, const TrialPlan& plan, std::size_t site, bool blinded);

/// A label for each container of each plot.
void write_labels(HtmlPage& page, const TrialPlan& plan, const ScanCodeMaker& codes);

/// A label for the stake of each plot, of controls too.
void write_stakes(HtmlPage& page, const TrialPlan& plan, const ScanCodeMaker& codes);

/// The code of a label as a drawing; nothing without a maker of codes.
void write_scan_code(HtmlPage& page, std::string_view label, const ScanCodeMaker& codes);

/// The loads of one application in the order of mixing; nothing where there are none.
void write_day_plan(HtmlPage& page, const TrialPlan& plan, std::size_t application);

/// What the spreader must put down of each product; nothing where no spreader is known.
void write_spreader_card(HtmlPage& page, const TrialPlan& plan);

/// How large labels are.
[[nodiscard]] std::string label_style(const LabelLayout& labels);

/// What lets the sheets be filled in on a screen: the loads with their rules, and the script.
void write_form(HtmlPage& page, const TrialPlan& plan);

/// What a page with that script may do: run what stands in it, and ask for nothing.
[[nodiscard]] std::string_view form_policy();

}  // namespace leastwise::report
