#pragma once
#include <leastwise/trial_plan.hpp>

#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// What the supply of a product says that the blend of a scenario with rates has said already.
void note_rates(const Treatment& treatment, const Product& product, TreatmentPlan& plan);

/// What to mind about the load: its mass, its density, its mixes, its binder, its granules.
void add_load_notes(const Trial& trial, const TreatmentDraftPlan& draft,
                    const std::vector<StockMix>& mixes, TreatmentPlan& plan);

/// Takes out of the notes what the stop conditions say of what is really in the load.
void drop_what_the_sheet_says(TreatmentPlan& plan);

/// Notes that more than one product carries are said once for the trial.
void lift_shared_notes(TrialPlan& plan);

/// What to mind about the trial as a whole.
void add_trial_notes(const Trial& trial, TrialPlan& plan);

}  // namespace leastwise::trial
