#pragma once
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace leastwise::support {

/// All rules of a scenario that may be dropped.
[[nodiscard]] std::vector<RuleId> rule_ids(const Scenario& scenario);

/// The draft without that rule. The basis never changes: a rate goes back to `min: 0`.
///
/// Throws: std::invalid_argument when the draft has no such rule.
[[nodiscard]] ScenarioDraft without_rule(const ScenarioDraft& draft, const RuleId& rule);

/// The draft with the rule's limit set to `value` (both sides for `exactly`), in the user's unit.
///
/// Throws: std::invalid_argument when the draft has no such rule or the rule has no limit.
[[nodiscard]] ScenarioDraft with_limit(const ScenarioDraft& draft, const RuleId& rule,
                                       double value);

/// The limit as the draft states it; nothing for either-or rules.
[[nodiscard]] std::optional<double> limit_of(const ScenarioDraft& draft, const RuleId& rule);

/// The draft with the two families allowed in one blend.
[[nodiscard]] ScenarioDraft with_pair_lifted(const ScenarioDraft& draft,
                                             const std::string& family_a,
                                             const std::string& family_b);

}  // namespace leastwise::support
