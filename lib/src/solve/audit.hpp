#pragma once
#include <leastwise/scenario.hpp>

#include <span>
#include <vector>

#include "scenario/rules.hpp"

namespace leastwise::solve {

/// Worst violation of any rule of `scenario` by a blend, recomputed from the scenario's own
/// numbers without the model's rows: every limit, the coating, stock, shares, minima if used, bins
/// and families kept apart.
///
/// `kg` runs along `Scenario::materials()`: kg per hectare or per tonne, by basis.
/// Returns: relative to the size of each limit; infinity for a broken either-or rule.
[[nodiscard]] double audit(const Scenario& scenario, const std::vector<double>& kg);
/// The same by `rules::rules_of(scenario)`, listed once for many blends.
[[nodiscard]] double audit(const Scenario& scenario, std::span<const rules::Rule> rules,
                           const std::vector<double>& kg);

}  // namespace leastwise::solve
