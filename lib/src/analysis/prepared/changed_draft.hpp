#pragma once
#include <leastwise/prepared.hpp>

namespace leastwise::analysis {

/// Moves the limit of `rule` in `draft`. Throws: std::out_of_range when the draft does not state
/// that rule; std::invalid_argument for a kind without a limit, and for a part of a bin.
void move_limit(ScenarioDraft& draft, const RuleId& rule, double limit);

/// Lets `material` be left out of `draft`, which has it.
void leave_out(ScenarioDraft& draft, const std::string& material);

}  // namespace leastwise::analysis
