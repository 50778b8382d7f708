#pragma once
#include <leastwise/trial_plan.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "report/kit/html_page.hpp"
#include "report/kit/page.hpp"

namespace leastwise::report {

// Powders that are sprayed on the plots: on the sheets of their solutions, and beside the products.

/// `Spray solution B-1 on every plot beside this: boric-acid 1.733 kg/ha in 500 l/ha`, one a line.
[[nodiscard]] std::vector<std::string> spray_lines(const TrialPlan& plan,
                                                   const TreatmentPlan& treatment);

/// What one plot gets of a solution: `100.0 g of solution B-1`.
[[nodiscard]] std::string spray_text(const TrialPlan& plan, const Plot& plot,
                                     const PlotSpray& spray);

/// `plots of T4 take 500 l/ha`, one treatment a line.
[[nodiscard]] std::vector<std::string> solution_facts(const TrialPlan& plan, const StockMix& mix);

/// How to make a solution, and how to put it down.
[[nodiscard]] std::vector<std::string_view> solution_steps();

/// The plots that a solution is sprayed on, with their masses.
void write_sprayed_plots(Page& page, const TrialPlan& plan, const StockMix& mix);
void write_sprayed_plots(HtmlPage& page, const TrialPlan& plan, const StockMix& mix);

}  // namespace leastwise::report
