#pragma once
#include <leastwise/trial_plan.hpp>

#include <cstdint>

#include "report/kit/json_values.hpp"

namespace leastwise::report {

/// Grams from milligrams.
[[nodiscard]] Json grams(std::int64_t mg);
/// A nutrient of a load, planned against achieved.
[[nodiscard]] Json nutrient_check(const NutrientCheck& n);
/// A rule that a load was held against.
[[nodiscard]] Json rule_check(const RuleCheck& r);

}  // namespace leastwise::report
