#pragma once
#include <leastwise/scenario.hpp>
#include <leastwise/trial_load_rule.hpp>
#include <leastwise/trial_plan.hpp>

#include <vector>

namespace leastwise::trial {

/// Every rule of `scenario` for a load, as `rule_checks` judges them, a stock mix as what it holds;
/// of a fixed `recipe` only the coating. What is sprayed on beside it counts as planned.
[[nodiscard]] std::vector<LoadRule> load_rules(const Scenario& scenario, const TreatmentPlan& plan,
                                               const std::vector<StockMix>& mixes, bool recipe);

/// The range of each weighing; none at all where a rule is missed by more than 1 % as planned.
/// Rounded inwards to what the balance reads.
[[nodiscard]] std::vector<MassRange> mass_ranges(const std::vector<LoadRule>& rules,
                                                 const std::vector<Weighing>& load);

}  // namespace leastwise::trial
