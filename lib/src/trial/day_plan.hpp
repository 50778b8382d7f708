#pragma once
#include <leastwise/trial_plan.hpp>

#include <vector>

namespace leastwise::trial {

/// The stock mixes, then the loads of all treatments in the order in which the least is carried
/// over: those with the least micronutrients first, then those with the least of all nutrients,
/// with cleaning between treatments. Minutes are common practice.
[[nodiscard]] std::vector<DayTask> day_plan(const TrialPlan& plan);

}  // namespace leastwise::trial
