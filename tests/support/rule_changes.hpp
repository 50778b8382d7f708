#pragma once
#include <leastwise/scenario.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace leastwise::support {

/// A rule's name taken apart: `rate N min` is kind `rate`, subject `N`, side `min`.
struct RuleName {
  std::string kind{};     ///< rate grade ratio total coating share stock bins least apart
  std::string subject{};  ///< empty for total, coating, bins
  std::string other{};    ///< second family of `apart`, second nutrient of `ratio`
  std::string side{};     ///< min max exactly; empty for others
};

/// Throws: std::invalid_argument for a name of no known form.
[[nodiscard]] RuleName parsed_rule(std::string_view name);

/// All rules of a scenario that may be dropped, by name.
[[nodiscard]] std::vector<std::string> rule_names(const Scenario& scenario);

/// The draft without that rule. The basis never changes: a rate goes back to `min: 0`.
///
/// Throws: std::invalid_argument when the draft has no such rule.
[[nodiscard]] ScenarioDraft without_rule(const ScenarioDraft& draft, std::string_view name);

/// The draft with the rule's limit set to `value` (both sides for `exactly`), in the user's unit.
///
/// Throws: std::invalid_argument when the draft has no such rule or the rule has no limit.
[[nodiscard]] ScenarioDraft with_limit(const ScenarioDraft& draft, std::string_view name,
                                       double value);

/// The limit as the draft states it; nothing for either-or rules.
[[nodiscard]] std::optional<double> limit_of(const ScenarioDraft& draft, std::string_view name);

/// The draft with the two families allowed in one blend.
[[nodiscard]] ScenarioDraft with_pair_lifted(const ScenarioDraft& draft,
                                             const std::string& family_a,
                                             const std::string& family_b);

}  // namespace leastwise::support
