#pragma once
#include <leastwise/ending.hpp>
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>
#include <leastwise/question.hpp>
#include <leastwise/scenario.hpp>

#include <limits>
#include <span>
#include <string>
#include <vector>

namespace leastwise {

/// A limit that differs from the scenario's.
struct LimitChange {
  std::string rule{};  ///< its name in reports: `rate N min`
  double limit = 0;    ///< in the unit of the rule
};

/// One of many questions about a scenario: what differs from it.
struct WhatIf {
  std::vector<PriceChange> prices{};   ///< per tonne
  std::vector<LimitChange> limits{};   ///< as `with_limit`
  std::vector<std::string> without{};  ///< materials left out
};

/// The answer to one of them.
struct WhatIfAnswer {
  Status status = Status::stopped;  ///< as `formulate` gives it
  /// Of the cheapest blend, per ha or per t, by basis; NaN without a proved blend.
  double cost = std::numeric_limits<double>::quiet_NaN();
  std::vector<Portion> portions{};  ///< largest first; empty without a proved blend
};

/// Answers every question, each as `formulate` without intervals answers it, to the last bit.
///
/// `threads`: 0 for as many as the machine has; changes nothing but the time. `limits` is for the
/// whole call: questions it leaves no time for are `stopped`. Progress is told on the thread of the
/// call.
/// Throws: QuestionError, InputError for a question that does not fit.
/// Thread safety and determinism: as `formulate`.
[[nodiscard]] LEASTWISE_API std::vector<WhatIfAnswer> what_if(const Scenario& scenario,
                                                              std::span<const WhatIf> questions,
                                                              unsigned threads = 0,
                                                              const SolveLimits& limits = {});

}  // namespace leastwise
