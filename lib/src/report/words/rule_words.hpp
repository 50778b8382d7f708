#pragma once
#include <leastwise/rule_id.hpp>

#include <optional>
#include <string>

namespace leastwise::report {

/// What the rule asks, in words: `at least 60 kg/ha of N`. The rule's own name where it has no
/// limit to tell.
[[nodiscard]] std::string rule_in_words(const RuleId& id, std::optional<double> limit,
                                        LimitUnit unit);

/// A limit with its unit: `60 kg/ha`, `4 %`, `0.3`.
[[nodiscard]] std::string limit_text(double limit, LimitUnit unit, int digits = 6);

/// A heading with the unit of what stands under it: `limit, kg/ha`.
[[nodiscard]] std::string with_unit(std::string heading, LimitUnit unit);

}  // namespace leastwise::report
