#pragma once
#include <leastwise/trial_plan.hpp>

#include <vector>

#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// How far the load of `plan` misses the rule it misses most, percent of the limit; 0: it keeps
/// all.
[[nodiscard]] double worst_miss_percent(const TreatmentDraftPlan& draft, const TreatmentPlan& plan,
                                        const std::vector<StockMix>& mixes);

/// Moves rows of the load by one digit of their balances, up or down, while a rule is missed by
/// more than 1 % and that brings it nearer: rounding each row to its nearest digit may leave a
/// minimum short that a digit more keeps. No row moves further, and the load never weighs less than
/// its share.
void repair_rounding(const TreatmentDraftPlan& draft, const std::vector<StockMix>& mixes,
                     TreatmentPlan& plan);

}  // namespace leastwise::trial
