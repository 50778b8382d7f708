#pragma once
#include <leastwise/trial_plan.hpp>

#include <vector>

#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// Packs the product for each plot of the treatment and sums up what they take.
void plan_packs(const Trial& trial, const std::vector<Plot>& plots, TreatmentDraftPlan& draft,
                TreatmentPlan& plan);

/// Chooses the mixer for the packs, the spare and the samples, splits them into equal loads under
/// its capacity and rounds each to the balances. Fills mixer, loads, weighings and totals of
/// `plan`. Loads hold whole blocks or plots where that wastes little (`whole_packs`).
///
/// Returns: false where so many loads would be needed that the mixer is the wrong one.
bool plan_loads(const Trial& trial, const std::vector<Plot>& plots,
                const std::vector<StockMix>& mixes, TreatmentDraftPlan& draft, TreatmentPlan& plan);

/// Gives each plot of the treatment its packs, with the loads they come from.
void fill_packs(const Trial& trial, const TreatmentDraftPlan& draft, const TreatmentPlan& plan,
                std::vector<Plot>& plots);

/// kg/ha that the packs come to, over all plots.
[[nodiscard]] double rate_on_plots(const TreatmentPlan& plan);

}  // namespace leastwise::trial
