#pragma once
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "report/kit/page.hpp"

namespace leastwise::report {

// The parts of a plan as plain text.

inline constexpr std::string_view item_dash = "  - ";

void write_note(Page& page, const Note& note);

/// A heading with a list below it; nothing where there are no lines.
void write_list(Page& page, std::string_view heading, const std::vector<std::string>& lines);

/// What is weighed for each load of a treatment, and the order of work.
void write_sheet(Page& page, const TrialPlan& trial, const TreatmentPlan& plan);

/// Why a treatment has no product.
void write_without_product(Page& page, const TreatmentPlan& plan);

/// The plots of one site that get something at `application`.
void write_plots(Page& page, const TrialPlan& plan, std::size_t s, std::size_t application);

/// The days of mixing, and what the spreader puts down.
void write_day(Page& page, const TrialPlan& plan);

}  // namespace leastwise::report
