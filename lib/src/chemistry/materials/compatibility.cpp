#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <utility>
#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

using FamilyPair = std::pair<std::string_view, std::string_view>;

FamilyPair pair_of(const CompatibilityRule& rule) { return {rule.family_a, rule.family_b}; }

Compatibility read_level(const Table& table, std::size_t row) {
  using enum Compatibility;
  for (const Compatibility level : {compatible, limited, incompatible}) {
    if (table.text(row, "level") == to_string(level)) return level;
  }
  table.reject(row, "level", "is not a level of compatibility");
}

std::vector<CompatibilityRule> read_rules() {
  const Table table("compatibility.csv", embedded::compatibility_csv());
  std::vector<CompatibilityRule> rules;
  for (std::size_t row = 0; row < table.size(); ++row) {
    CompatibilityRule rule;
    rule.family_a = table.text(row, "family_a");
    rule.family_b = table.text(row, "family_b");
    rule.level = read_level(table, row);
    rule.reason = table.text(row, "reason");
    rule.source = table.source(row);
    if (!rules.empty() && pair_of(rules.back()) >= pair_of(rule)) {
      table.reject(row, "family_a", "is out of order, or its pair stands twice");
    }
    rules.push_back(std::move(rule));
  }
  return rules;
}

}  // namespace

std::string_view to_string(Compatibility level) {
  switch (level) {
    case Compatibility::compatible:
      return "compatible";
    case Compatibility::limited:
      return "limited";
    case Compatibility::incompatible:
      return "incompatible";
  }
  return "";
}

std::span<const CompatibilityRule> built_in_compatibility() {
  static const std::vector<CompatibilityRule> rules = read_rules();
  return rules;
}

const CompatibilityRule* find_compatibility(std::string_view family_a, std::string_view family_b) {
  const std::span<const CompatibilityRule> rules = built_in_compatibility();
  const FamilyPair wanted = std::minmax(family_a, family_b);
  const auto found = std::ranges::lower_bound(rules, wanted, {}, pair_of);
  return found != rules.end() && pair_of(*found) == wanted ? &*found : nullptr;
}

}  // namespace leastwise
