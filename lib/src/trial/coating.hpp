#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <optional>

namespace leastwise::trial {

/// The coating of a load; nothing without powders. Notes what is above the limit or unusual.
[[nodiscard]] std::optional<Coating> coating_of(const Trial& trial, const Scenario& scenario,
                                                TreatmentPlan& plan);

/// A vegetable oil, for binders of which no density is known: common practice.
inline constexpr double assumed_binder_density_kg_per_l = 0.92;

}  // namespace leastwise::trial
