#pragma once
#include <leastwise/scenario.hpp>
#include <leastwise/trial_plan.hpp>

namespace leastwise::trial {

/// A mass of at least so many digits of the balance is weighed to within 1 %.
inline constexpr std::int64_t least_digits = 50;

/// The stepwise dilution by which `powder`, too little for its balance, gets into `loads` loads.
///
/// With p = 50 digits and m the target, one part in D = p / m (rounded up) is needed; it is made in
/// the fewest steps of at most one part in ten. Each step weighs p (or a multiple that serves all
/// loads) of the powder and `parts` - 1 times as much carrier. m times the whole dilution is taken
/// of the last mix, which is p or more. The carrier is the largest other powder of the load that
/// can give up so much, else an inert one on top.
[[nodiscard]] Premix premix_for(const Weighing& powder, const std::vector<Weighing>& load,
                                std::size_t loads);

/// Warns where rounding or readability shifts a nutrient by more than 1 %, each with its remedies,
/// and works out the pre-mix of the powders that need one.
void add_remedies(const Scenario& scenario, TreatmentPlan& plan);

}  // namespace leastwise::trial
