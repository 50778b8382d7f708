#pragma once
#include <leastwise/compare.hpp>

namespace leastwise::analysis {

/// Salt index of a blend: the mean of its materials' published indices, by mass.
[[nodiscard]] BlendIndex salt_index_of(const Scenario& scenario, const Blend& blend);
/// Calcium carbonate that makes up for the acid, by mass.
[[nodiscard]] BlendIndex acidity_of(const Scenario& scenario, const Blend& blend);

}  // namespace leastwise::analysis
