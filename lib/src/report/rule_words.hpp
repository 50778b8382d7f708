#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace leastwise::report {

/// Which kind of rule a rule's name speaks of.
enum class RuleKind {
  rate,
  grade,
  ratio,
  total,
  coating,
  share,
  left_out,
  stock,
  bins,
  minimum_if_used,
  apart,
  other
};

/// Which side of a quantity a rule limits.
enum class RuleSide { none, min, max, exactly };

/// A rule's name taken apart: `rate N min` is {rate, "N", min}.
struct RuleName {
  RuleKind kind = RuleKind::other;
  std::string subject{};
  RuleSide side = RuleSide::none;
};

[[nodiscard]] RuleName parsed_rule(std::string_view rule);

/// What the rule asks, in words: `at least 60 kg/ha of N`. The rule's own name where it is none of
/// the known kinds, or where it has no limit.
[[nodiscard]] std::string rule_in_words(std::string_view rule, std::optional<double> limit,
                                        std::string_view unit);

/// A limit with its unit: `60 kg/ha`, `4 %`, `0.3`.
[[nodiscard]] std::string limit_text(double limit, std::string_view unit, int digits = 6);

/// True for the spellings of percent that rules carry.
[[nodiscard]] bool is_percent(std::string_view unit);

}  // namespace leastwise::report
