#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/scenario.hpp>

#include <string>
#include <vector>

#include "support/reading.hpp"

namespace leastwise::support {

/// What an independent check of a blend found.
struct Audit {
  double cost = 0;             ///< per hectare or per tonne, by basis
  double worst_violation = 0;  ///< relative to the size of the rule
  std::string worst_rule{};    ///< empty when nothing is violated at all

  [[nodiscard]] bool passes(double tolerance = 1e-7) const { return worst_violation <= tolerance; }
};

/// Holds amounts (kg per hectare or per tonne, along the materials) against every rule.
[[nodiscard]] Audit audit(const Reading& reading, const std::vector<double>& amounts);

/// The amounts of a blend along the scenario's materials, in the scenario's basis.
[[nodiscard]] std::vector<double> amounts_of(const Scenario& scenario, const Blend& blend);

/// The cost that was minimised: per hectare or per tonne, by basis.
[[nodiscard]] double cost_of(const Blend& blend);

/// Every figure of a blend that contradicts the scenario or another figure; empty when all agree.
///
/// Checks the rules, both costs, the breakdown, portions in both units, binder and supply.
[[nodiscard]] std::vector<std::string> contradictions(const Scenario& scenario, const Blend& blend);

}  // namespace leastwise::support
