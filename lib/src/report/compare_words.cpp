#include "report/compare_words.hpp"

#include <leastwise/nutrient.hpp>

#include <fmt/format.h>

#include <algorithm>

#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

/// Percent of `name` in the blend, from whichever of element and oxide it lists.
double percent_of(const Blend& blend, std::string_view name) {
  for (const Supply& supply : blend.supply)
    if (supply.nutrient == name) return supply.percent;
  for (const Supply& supply : blend.supply)
    if (element_of(supply.nutrient) && element_of(supply.nutrient) == element_of(name))
      if (const auto factor = conversion_factor(supply.nutrient, name))
        return supply.percent * *factor;
  return 0;
}

bool is_asked(const Supply& supply) {
  return supply.rate_kg_per_ha.has_min() || supply.grade_percent.has_min();
}

}  // namespace

std::string grade_words(const Blend& blend) {
  std::string grade = fmt::format("{}-{}-{}", plain_text(percent_of(blend, "N"), 3),
                                  plain_text(percent_of(blend, "P2O5"), 3),
                                  plain_text(percent_of(blend, "K2O"), 3));
  for (const Supply& supply : blend.supply) {
    const auto element = element_of(supply.nutrient);
    if (!element || *element == "N" || *element == "P" || *element == "K") continue;
    if (is_asked(supply))
      grade += fmt::format(" {} {}", plain_text(supply.percent, 3), supply.nutrient);
  }
  return grade;
}

bool currencies_differ(const Comparison& comparison) {
  return std::ranges::any_of(comparison.lines, [&](const ComparedScenario& line) {
    return line.currency != comparison.lines.front().currency;
  });
}

std::vector<RuleId> conflict_rules(const Conflict& conflict) {
  std::vector<RuleId> rules;
  for (const ConflictingRule& rule : conflict.rules) rules.push_back(rule.id);
  return rules;
}

std::vector<RuleId> binding_rules(const Blend& blend) {
  std::vector<RuleId> rules;
  for (const BindingRule& rule : blend.binding) {
    if (rule.id.kind != RuleKind::left_out && std::ranges::find(rules, rule.id) == rules.end())
      rules.push_back(rule.id);
  }
  return rules;
}

std::vector<std::string> names_of(const std::vector<RuleId>& rules) {
  std::vector<std::string> names;
  for (const RuleId& rule : rules) names.push_back(to_string(rule));
  return names;
}

double uncovered_percent(const BlendIndex& index) {
  constexpr double whole = 100;
  return index.unknown.empty() ? 0 : whole - index.known_percent;
}

std::optional<double> lime_kg_per_ha(const BlendIndex& acidity, const Blend& blend) {
  constexpr double per_kg = 100;
  if (!acidity.value || *acidity.value >= 0 || !blend.total_kg_per_ha) return std::nullopt;
  return -*acidity.value / per_kg * *blend.total_kg_per_ha;
}

}  // namespace leastwise::report
