#pragma once
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>

#include <string>
#include <vector>

namespace leastwise {

/// How sure one limit is in the lots that will be made, given how the analyses of the materials
/// spread. Errors of analysis are taken as normal; contents and limits are kg/ha for rates and
/// percent for grades.
struct LimitConfidence {
  std::string rule{};                  ///< `grade N min`
  RuleId id{};                         ///< the same as a value
  double limit = 0;                    ///< as the scenario states it
  double asked = 0;                    ///< the confidence the scenario asks for, 0.5 to 0.9999
  double expected = 0;                 ///< what the blend holds on average
  double deviation_together = 0;       ///< standard deviation when all analyses are off together
  double deviation_independent = 0;    ///< and when each is off by itself
  double probability_together = 1;     ///< at least `asked`: the blend was made so
  double probability_independent = 1;  ///< the same, each off by itself
};

/// One entry for each limit of `scenario` that states a confidence.
///
/// `blend` must be one of `scenario`.
[[nodiscard]] LEASTWISE_API std::vector<LimitConfidence> limit_confidences(const Scenario& scenario,
                                                                           const Blend& blend);

}  // namespace leastwise
