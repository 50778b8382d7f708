#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <vector>

namespace leastwise::trial {

/// What to buy for the loads and the stock mixes of `plan`, by material; a material that costs
/// differently in two scenarios stands once for each price. The need and the spare of all materials
/// add up to the packs and the spare of all treatments, and with what is left in the mixes to all
/// that is weighed, to the milligram.
[[nodiscard]] std::vector<Purchase> purchases_for(const Trial& trial, const TrialPlan& plan);

/// How a binder without a name is called.
inline constexpr std::string_view unnamed_binder = "binder";

}  // namespace leastwise::trial
