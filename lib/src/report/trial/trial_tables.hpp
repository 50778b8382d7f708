#pragma once
#include <leastwise/trial_plan.hpp>

#include <string>
#include <vector>

#include "report/kit/html_page.hpp"
#include "report/kit/table.hpp"

namespace leastwise::report {

// Tables that stand alike in the text and on the sheets of a trial.

/// kg/ha of each material: a row for each treatment with a product.
[[nodiscard]] Table recipe_table(const TrialPlan& plan);

/// Percent of the product, grade and cost: a row for each treatment with a product.
[[nodiscard]] Table grade_table(const TrialPlan& plan);

/// Planned and achieved kg/ha of each nutrient; `*` marks what differs though nothing asks for it.
[[nodiscard]] Table nutrient_comparison(const TrialPlan& plan);

/// What the marks of the comparison mean; empty where there are none.
[[nodiscard]] std::string comparison_key(const TrialPlan& plan);

/// `18-46-0`: N, P2O5 and K2O in percent of the product, then other nutrients by name.
[[nodiscard]] std::string grade_text(const Recipe& recipe);

/// `196.355 kg/ha x 20 m2 / 10 = 392.71 g, x 4 plots of Upper Terrace = 1570.84 g`, for each size
/// of plot: what a hand-held calculator gives, and what the packs come to.
[[nodiscard]] std::vector<std::string> by_hand(const TrialPlan& plan,
                                               const TreatmentPlan& treatment);

/// How treatments were solved together, and what that costs; empty where nothing is held.
[[nodiscard]] std::vector<std::string> hold_lines(const TrialPlan& plan);

/// The same table on a sheet.
void write_sheet_table(HtmlPage& page, const Table& table);

}  // namespace leastwise::report
