#pragma once
#include <leastwise/formulate.hpp>
#include <leastwise/trial_plan.hpp>

#include <chrono>
#include <cstddef>
#include <utility>
#include <vector>

#include "solve/time_left.hpp"
#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// Finds what each treatment spreads: solves it, takes its recipe, or nothing. Where the trial
/// holds rates equal, the treatments that have a blend by themselves are then solved together;
/// `plan` says how that went.
void solve_treatments(const Trial& trial, const solve::TimeLeft& time,
                      std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan);

}  // namespace leastwise::trial
