#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <vector>

namespace leastwise::trial {

/// Every nutrient over all treatments of `plan` that have a product or need none, with what differs
/// though the trial does not ask for it.
[[nodiscard]] std::vector<ComparedNutrient> compared(const Trial& trial, const TrialPlan& plan);

/// What differs unasked, as one note; nothing when all is well.
void note_differences(const std::vector<ComparedNutrient>& nutrients, TrialPlan& plan);

}  // namespace leastwise::trial
