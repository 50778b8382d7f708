#pragma once
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <span>

#include "report/kit/html_page.hpp"

namespace leastwise::report {

/// Treatments, purchases, notes, cautions and store-keeping: the first sheet.
void write_overview_sheet(HtmlPage& page, const TrialPlan& plan);

/// The plots of one site with the codes of their labels.
void write_plot_sheet(HtmlPage& page, const TrialPlan& plan, std::size_t site);

/// A pack of a treatment and the plot it is for.
struct PackOfPlot {
  const Plot* plot = nullptr;
  const Pack* pack = nullptr;
};

/// One batch, to be followed with a pen in hand. `packs` are those of the treatment, in order.
void write_batch_sheet(HtmlPage& page, const TrialPlan& plan, const TreatmentPlan& treatment,
                       std::size_t load, std::span<const PackOfPlot> packs);

/// The hazards of a product in boxes; nothing where there are none.
void write_hazards(HtmlPage& page, const TreatmentPlan& treatment);

/// A label for each container of each plot, ten on a sheet.
void write_labels(HtmlPage& page, const TrialPlan& plan);

}  // namespace leastwise::report
