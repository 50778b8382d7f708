#pragma once
#include <leastwise/trial_plan.hpp>

#include <vector>

#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// Packs and loads of every product, and the stock mixes for what no balance carries: mixes add
/// carrier, carrier adds mass, mass makes larger packs and loads, until all of it agrees. A product
/// for which a mix breaks a rule that the load keeps without one goes without.
void plan_mixes_and_loads(const Trial& trial, std::vector<TreatmentDraftPlan>& drafts,
                          TrialPlan& plan);

/// Adds up what the loads take of each mix, and drops mixes that nothing takes from.
void settle_mixes(std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan);

/// Takes the product of a treatment away: no plan keeps its rules. `rules` and `nutrients` stay and
/// say what the nearest load would come to.
void give_up(TreatmentPlan& plan);

}  // namespace leastwise::trial
