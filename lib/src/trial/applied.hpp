#pragma once
#include <leastwise/trial_check.hpp>

#include <vector>

namespace leastwise::trial {

/// What each plot of `plan` got by the batches of `check`: the mean of the batches its packs came
/// from, by mass.
[[nodiscard]] std::vector<AppliedPlot> applied_plots(const TrialPlan& plan,
                                                     const WeighedCheck& check);

}  // namespace leastwise::trial
