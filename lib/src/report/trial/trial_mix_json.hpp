#pragma once
#include <leastwise/trial_plan.hpp>

#include "report/kit/json_values.hpp"

namespace leastwise::report {

/// What a load of `treatment` takes of each stock mix, for each powder in it.
[[nodiscard]] Json json_premixes(const TrialPlan& plan, const TreatmentPlan& treatment);

/// A stock mix with its steps.
[[nodiscard]] Json json_mix(const StockMix& m);

}  // namespace leastwise::report
