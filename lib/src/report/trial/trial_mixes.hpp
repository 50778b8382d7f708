#pragma once
#include <leastwise/trial_plan.hpp>

#include <string>
#include <vector>

#include "report/kit/html_page.hpp"
#include "report/kit/page.hpp"

namespace leastwise::report {

/// What a mix is for and what is left of it, one fact a line.
[[nodiscard]] std::vector<std::string> mix_facts(const TrialPlan& plan, const StockMix& mix);

/// `Stock mix Cu-1`, `Solution B-2`.
[[nodiscard]] std::string mix_title(const StockMix& mix);

/// How the carrier must be, where it is none of the materials; else empty.
[[nodiscard]] std::string carrier_text(const StockMix& mix);

/// The sheet of a stock mix or a solution.
void write_mix(Page& page, const TrialPlan& plan, const StockMix& mix);
void write_mix_sheet(HtmlPage& page, const TrialPlan& plan, const StockMix& mix);

}  // namespace leastwise::report
