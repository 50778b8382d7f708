#pragma once
#include <leastwise/export.h>
#include <leastwise/declared_analysis.hpp>
#include <leastwise/portion.hpp>
#include <leastwise/scenario.hpp>

#include <span>

namespace leastwise {

/// The declared analysis of a product of `scenario` that consists of `portions`, by the terms that
/// the scenario states under `declare`.
///
/// Contents are rounded down, forms of N and the solubility of P2O5 are added up from what the
/// materials state. Throws: std::out_of_range for a portion of no material of the scenario.
/// Thread safety: safe on any threads at once.
[[nodiscard]] LEASTWISE_API DeclaredAnalysis declared_analysis(const Scenario& scenario,
                                                               std::span<const Portion> portions);

}  // namespace leastwise
