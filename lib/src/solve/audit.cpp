#include "solve/audit.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scenario/units.hpp"

namespace leastwise::solve {
namespace {

constexpr double broken = std::numeric_limits<double>::infinity();

/// How far `missing` is of `size`; what is not a number is broken.
double relative(double missing, double size) {
  if (missing <= 0) return 0;
  return size > 0 && std::isfinite(missing) ? missing / size : broken;
}

/// Violation of one rule. Limits on a composition are compared as amounts, so that a blend of
/// nothing breaks none; a maximum on next to nothing is missed only by what is not lost in `total`.
double violation(const rules::Achieved& achieved, double total) {
  const double missing = achieved.shortfall();
  const bool choice = !achieved.rule.is_linear() || achieved.rule.id.kind == RuleKind::unasked;
  if (choice) return missing <= 0 ? 0 : broken;
  double size = std::max(std::fabs(achieved.of), std::fabs(achieved.needed()));
  if (achieved.rule.against.counts != rules::Counts::nothing && achieved.rule.side == RuleSide::max)
    size += 1e-7 * total;
  return relative(missing, size);
}

}  // namespace

double audit(const Scenario& scenario, const std::vector<double>& kg) {
  return audit(scenario, rules::rules_of(scenario), kg);
}

double audit(const Scenario& scenario, std::span<const rules::Rule> rules,
             const std::vector<double>& kg) {
  double total = 0;
  for (std::size_t i = 0; i < kg.size(); ++i) {
    if (kg[i] < 0 || (!scenario.materials()[i].can_enter() && kg[i] > 0)) return broken;
    total += scenario.mass_factor(i) * kg[i];
  }
  double worst = 0;
  if (scenario.basis() == Basis::per_tonne)
    worst = relative(std::fabs(total - kg_per_tonne), kg_per_tonne);
  for (const auto& achieved : rules::measure(scenario, rules, {kg}))
    worst = std::max(worst, violation(achieved, total));
  return worst;
}

}  // namespace leastwise::solve
