#include "scenario/families.hpp"

#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <array>
#include <map>
#include <set>

#include "scenario/builder.hpp"
#include "scenario/codes.hpp"
#include "scenario/suggest.hpp"
#include "scenario/wording.hpp"

namespace leastwise {
namespace {

constexpr std::array<std::string_view, 4> fuel_families{"chelates", "coated-urea",
                                                        "elemental-sulfur", "organic-matter"};
constexpr double elemental_sulfur_percent = 50;

constexpr std::string_view burns =
    "one is a fuel, the other an oxidizer that feeds its fire: the mixture can burn or explode";

bool is_fuel_family(std::string_view family) {
  return std::find(fuel_families.begin(), fuel_families.end(), family) != fuel_families.end();
}

bool says_nitrate(std::string_view text) {
  std::string folded(text);
  for (char& c : folded) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return folded.find("nitrate") != std::string::npos;
}

}  // namespace

FamilyPair family_pair(const std::string& a, const std::string& b) {
  return a < b ? FamilyPair{a, b} : FamilyPair{b, a};
}

bool is_oxidizer(const Material& material) {
  const Family* family = find_family(material.family);
  return (family != nullptr && family->oxidizer) || says_nitrate(material.family) ||
         says_nitrate(material.name) || content_percent(material, "N-nitrate") > 0;
}

bool is_fuel(const Material& material) {
  return is_fuel_family(material.family) ||
         content_percent(material, "S") > elemental_sulfur_percent;
}

bool can_burn(const FamilyPair& pair, std::span<const Material> materials) {
  const auto oxidizer = [&](const std::string& name) {
    const Family* family = find_family(name);
    return (family != nullptr && family->oxidizer) || says_nitrate(name) ||
           std::any_of(materials.begin(), materials.end(),
                       [&](const Material& m) { return m.family == name && is_oxidizer(m); });
  };
  const auto fuel = [&](const std::string& name) {
    return is_fuel_family(name) ||
           std::any_of(materials.begin(), materials.end(),
                       [&](const Material& m) { return m.family == name && is_fuel(m); });
  };
  return (oxidizer(pair.first) && fuel(pair.second)) || (oxidizer(pair.second) && fuel(pair.first));
}

namespace {

/// One list of the scenario's `compatibility`.
struct PairList {
  Compatibility level;
  std::string_view key;
  const std::vector<std::pair<std::string, std::string>>& pairs;
};

struct StatedLevel {
  Compatibility level;
  std::string path;
};

/// Reads the three lists, complaining about what makes no sense.
class StatedPairs {
 public:
  StatedPairs(const ScenarioDraft& draft, std::span<const Material> materials, Findings& findings)
      : materials_(materials), findings_(findings) {
    for (const auto& family : built_in_families()) families_.insert(family.name);
    for (const auto& material : materials) families_.insert(material.family);
    for (const auto& material : draft.materials) {
      families_.insert(material.family.value_or(material.name));
    }
    read({Compatibility::incompatible, "incompatible", draft.incompatible});
    read({Compatibility::limited, "limited", draft.limited});
    read({Compatibility::compatible, "compatible", draft.compatible});
  }

  [[nodiscard]] const std::map<FamilyPair, StatedLevel>& pairs() const { return pairs_; }

 private:
  void read(const PairList& list) {
    for (std::size_t i = 0; i < list.pairs.size(); ++i) {
      const std::string path = below(below("compatibility", list.key), std::to_string(i));
      if (findings_.touched(path)) continue;
      const auto& [a, b] = list.pairs[i];
      const bool first_known = check_family(a, below(path, "0"));
      const bool second_known = check_family(b, below(path, "1"));
      if (first_known && second_known) add(family_pair(a, b), list.level, path);
    }
  }

  bool check_family(const std::string& name, const std::string& path) {
    if (families_.find(name) != families_.end()) return true;
    if (findings_.touched("materials") || findings_.touched("catalogue")) return false;
    Suggestion suggestion(name);
    for (const auto& family : families_) suggestion.offer(family);
    findings_.error(codes::unknown_family, path,
                    "expected a family of the compatibility table or of a material, found " +
                        in_quotes(name) + suggestion.question());
    return false;
  }

  void add(const FamilyPair& pair, Compatibility level, const std::string& path) {
    const std::string names = in_quotes(pair.first) + " and " + in_quotes(pair.second);
    if (pair.first == pair.second) {
      findings_.error(
          codes::family_with_itself, path,
          "a pair must be of two different families, found " + in_quotes(pair.first) + " twice");
      return;
    }
    const auto [first, is_new] = pairs_.emplace(pair, StatedLevel{level, path});
    if (!is_new) {
      findings_.error(codes::contradictory_pair, path,
                      "the pair " + names + " must be listed once, found it " +
                          (first->second.level == level ? "twice" : "in two lists"));
      findings_.also(first->second.path, "first listed here");
    }
    if (level != Compatibility::incompatible && can_burn(pair, materials_)) {
      findings_.error(
          codes::dangerous_pair, path,
          "the rule that keeps " + names + " apart cannot be lifted: " + std::string(burns));
    }
  }

  std::span<const Material> materials_;
  Findings& findings_;
  std::set<std::string, std::less<>> families_{};
  std::map<FamilyPair, StatedLevel> pairs_{};
};

std::string reason_of(const FamilyPair& pair) {
  const CompatibilityRule* rule = find_compatibility(pair.first, pair.second);
  return rule != nullptr && rule->level != Compatibility::compatible
             ? rule->reason
             : std::string("the scenario lists the pair");
}

}  // namespace

void ScenarioBuilder::resolve_compatibility() {
  const StatedPairs stated(draft_, scenario_.materials_, findings_);
  std::set<std::string, std::less<>> present;
  for (const auto& material : scenario_.materials_) {
    if (material.can_enter()) present.insert(material.family);
  }
  std::map<FamilyPair, Exclusion> rules;
  for (const auto& rule : built_in_compatibility()) {
    const FamilyPair pair = family_pair(rule.family_a, rule.family_b);
    rules[pair] = {pair.first, pair.second, rule.level, rule.reason, {}};
  }
  for (const auto& pair : pairs_that_burn()) {
    rules[pair] = {pair.first, pair.second, Compatibility::incompatible, std::string(burns), {}};
  }
  for (const auto& [pair, statement] : stated.pairs()) {
    const auto known = rules.find(pair);
    const bool weakened = known != rules.end() &&
                          known->second.level == Compatibility::incompatible &&
                          statement.level != Compatibility::incompatible;
    if (weakened && present.contains(pair.first) && present.contains(pair.second)) {
      remark(NoteLevel::warning, NoteCode::rule_lifted, {pair.first, pair.second},
             "the scenario lifts the rule that keeps " + in_quotes(pair.first) + " and " +
                 in_quotes(pair.second) + " apart; the hazard stays: " + known->second.reason);
    }
    rules[pair] = {pair.first, pair.second, statement.level, reason_of(pair), statement.path};
  }
  const bool forbid = draft_.limited_compatibility == LimitedCompatibility::forbid;
  for (auto& [pair, rule] : rules) {
    if (!present.contains(pair.first) || !present.contains(pair.second)) continue;
    if (rule.level == Compatibility::compatible) continue;
    const bool excluded = rule.level == Compatibility::incompatible || forbid;
    (excluded ? scenario_.exclusions_ : scenario_.limited_pairs_).push_back(std::move(rule));
  }
}

std::vector<FamilyPair> ScenarioBuilder::pairs_that_burn() const {
  std::set<std::string> oxidizers;
  std::set<std::string> fuels;
  for (const auto& material : scenario_.materials_) {
    if (!material.can_enter()) continue;
    if (is_oxidizer(material)) oxidizers.insert(material.family);
    if (is_fuel(material)) fuels.insert(material.family);
  }
  std::vector<FamilyPair> pairs;
  for (const auto& oxidizer : oxidizers) {
    for (const auto& fuel : fuels) {
      if (oxidizer != fuel) pairs.push_back(family_pair(oxidizer, fuel));
    }
  }
  return pairs;
}

}  // namespace leastwise
