#pragma once
#include <leastwise/scenario.hpp>
#include <leastwise/trial_plan.hpp>

#include <vector>

namespace leastwise::trial {

/// A mass of at least so many digits of the balance is weighed to within 1 %.
inline constexpr std::int64_t least_digits = 50;

/// Warns where rounding or readability shifts a nutrient by more than 1 %, each with its remedies.
void add_remedies(const Scenario& scenario, TreatmentPlan& plan);

/// Says of each powder that a mix thins out what would spare the load its carrier: a finer balance,
/// or a larger load. For loads that break a rule.
void add_mix_remedies(const std::vector<StockMix>& mixes, TreatmentPlan& plan);

}  // namespace leastwise::trial
