#pragma once
#include <leastwise/report.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <string_view>

namespace leastwise::report {

/// How a batch sheet takes its paper.
enum class SheetSize {
  roomy,   ///< one page in large letters
  plain,   ///< one page
  parted,  ///< what is weighed on one page, the order of work in large letters on the next
};

/// The largest letters with which the sheet of a load fits its paper. `packs` are filled from it.
[[nodiscard]] SheetSize sheet_size(const TrialPlan& plan, const TreatmentPlan& treatment,
                                   std::size_t packs, Paper paper);

/// The class of that size in the style of the sheets.
[[nodiscard]] std::string_view class_of(SheetSize size);

}  // namespace leastwise::report
