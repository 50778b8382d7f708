#pragma once
#include <leastwise/trial_plan.hpp>

#include <string>

namespace leastwise::trial {

/// Of what a list of weighed masses speaks of: batches, rows, masses, and where each pack goes.
/// Eight hexadecimal digits; equal plans have equal ones, on every machine.
[[nodiscard]] std::string fingerprint_of(const TrialPlan& plan);

}  // namespace leastwise::trial
