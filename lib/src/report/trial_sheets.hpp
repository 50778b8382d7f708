#pragma once
#include <leastwise/trial_plan.hpp>

#include <cstddef>

#include "report/html_page.hpp"

namespace leastwise::report {

/// Treatments, purchases, notes, cautions and store-keeping: the first sheet.
void write_overview_sheet(HtmlPage& page, const TrialPlan& plan);

/// The plots of one site with the codes of their labels.
void write_plot_sheet(HtmlPage& page, const TrialPlan& plan, std::size_t site);

/// One batch, to be followed with a pen in hand.
void write_batch_sheet(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment,
                       std::size_t load);

/// A label for each container of each plot, ten on a sheet.
void write_labels(HtmlPage& page, const TrialPlan& plan);

}  // namespace leastwise::report
