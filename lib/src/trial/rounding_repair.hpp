#pragma once
#include <leastwise/trial_plan.hpp>

#include <vector>

#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// The rules of the treatment, held against the load as `plan` weighs it.
[[nodiscard]] std::vector<RuleCheck> rules_of_load(const TreatmentDraftPlan& draft,
                                                   const TreatmentPlan& plan,
                                                   const std::vector<StockMix>& mixes);

/// Moves rows of the load by one digit of their balances, up or down, while a rule is missed by
/// more than 1 % and that brings it nearer: rounding each row to its nearest digit may leave a
/// minimum short that a digit more keeps. No row moves further, and the load never weighs less than
/// its share.
void repair_rounding(const TreatmentDraftPlan& draft, const std::vector<StockMix>& mixes,
                     TreatmentPlan& plan);

}  // namespace leastwise::trial
