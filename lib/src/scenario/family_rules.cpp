#include <algorithm>
#include <map>

#include "base/text/wording.hpp"
#include "chemistry/hazard/clashes.hpp"
#include "scenario/family_checks.hpp"

namespace leastwise {
namespace {

void join(const Material& material, const Nature& nature, FamilyNature& joined) {
  for (const auto& family : nature.families) {
    auto& families = joined.nature.families;
    if (std::ranges::find(families, family) == families.end()) families.push_back(family);
  }
  for (const auto& hazard : nature.hazards) {
    if (joined.nature.has(hazard.kind)) continue;
    joined.nature.hazards.push_back(hazard);
    joined.shown_by.push_back(material.name);
  }
}

/// A name as it is written in a list of YAML.
std::string in_yaml(const std::string& name) {
  const bool plain = std::ranges::all_of(name, [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
           c == '_';
  });
  return plain && !name.empty() ? name : in_quotes(name);
}

std::string shown(const FamilyNature& of, HazardClass kind) {
  for (std::size_t i = 0; i < of.shown_by.size(); ++i) {
    if (of.nature.hazards[i].kind == kind) {
      return because(in_quotes(of.shown_by[i]), of.nature, kind);
    }
  }
  return in_quotes(of.family);
}

bool is_stricter(Compatibility a, Compatibility b) {
  return static_cast<int>(a) > static_cast<int>(b);
}

/// Whether families of the table stand for both hazards, so that the table has the word.
bool table_decides(const Clash& clash, const FamilyNature& a, const FamilyNature& b) {
  const auto any_has = [](const FamilyNature& of, HazardClass kind) {
    return std::any_of(of.nature.families.begin(), of.nature.families.end(),
                       [kind](const std::string& family) { return family_has(family, kind); });
  };
  return any_has(a, clash.first) && any_has(b, clash.second);
}

FamilyRule rule_of_table(const FamilyNature& a, const FamilyNature& b) {
  FamilyRule rule;
  const auto take = [&](const std::string& of_a, const std::string& of_b) {
    const CompatibilityRule* found = find_compatibility(of_a, of_b);
    if (found == nullptr || (rule.known && !is_stricter(found->level, rule.level))) return;
    rule.known = true;
    rule.level = found->level;
    rule.reason = found->reason;
    rule.source = found->source;
    if (of_a != a.family && found->level != Compatibility::compatible) {
      rule.reason += " ('" + a.family + "' counts as " + of_a + ")";
    }
    if (of_b != b.family && found->level != Compatibility::compatible) {
      rule.reason += " ('" + b.family + "' counts as " + of_b + ")";
    }
  };
  take(a.family, b.family);
  for (const auto& of_a : a.nature.families) {
    for (const auto& of_b : b.nature.families) take(of_a, of_b);
  }
  return rule;
}

}  // namespace

FamilyPair family_pair(const std::string& a, const std::string& b) {
  return a < b ? FamilyPair{a, b} : FamilyPair{b, a};
}

bool is_oxidizer(const Material& material) {
  return nature_of(material).has(HazardClass::oxidizer);
}

std::span<const Nature> natures_of(const Scenario& scenario) { return *scenario.natures_; }

std::vector<FamilyNature> natures_of_families(std::span<const Material> materials,
                                              std::span<const Nature> natures) {
  std::map<std::string, FamilyNature> joined;
  for (std::size_t i = 0; i < materials.size(); ++i) {
    if (!materials[i].can_enter()) continue;
    FamilyNature& of = joined[materials[i].family];
    of.family = materials[i].family;
    join(materials[i], natures[i], of);
  }
  std::vector<FamilyNature> families;
  families.reserve(joined.size());
  for (auto& [name, of] : joined) families.push_back(std::move(of));
  return families;
}

void add_silent_cautions(const Scenario& scenario, const std::vector<const Material*>& used,
                         std::vector<Note>& notes) {
  if (used.size() < 2) return;
  const auto& draft = scenario.draft();
  const auto is_listed = [&](const Material& material) {
    const auto names = [&](const std::pair<std::string, std::string>& pair) {
      return pair.first == material.family || pair.second == material.family ||
             pair.first == material.name || pair.second == material.name;
    };
    return std::ranges::any_of(draft.incompatible, names) ||
           std::ranges::any_of(draft.limited, names) ||
           std::ranges::any_of(draft.compatible, names);
  };
  for (const auto* material : used) {
    if (material->family == "filler" || is_listed(*material)) continue;
    const auto position = scenario.index_of(material->name);
    const Nature nature = position ? natures_of(scenario)[*position] : nature_of(*material);
    const bool has_rule = std::ranges::any_of(built_in_compatibility(), [&](const auto& rule) {
      return std::ranges::find(nature.families, rule.family_a) != nature.families.end() ||
             std::ranges::find(nature.families, rule.family_b) != nature.families.end();
    });
    if (has_rule) continue;
    notes.push_back({NoteLevel::caution,
                     NoteCode::no_compatibility_rule,
                     {material->name},
                     "No compatibility rule is known for " + in_quotes(material->name) +
                         ": check a compatibility chart, and do a jar test with the real "
                         "materials."});
  }
}

std::string way_to_lift(const FamilyPair& pair, const FamilyRule& rule) {
  if (rule.burns) return {};
  return "compatible: [[" + in_yaml(pair.first) + ", " + in_yaml(pair.second) +
         "]] under compatibility";
}

std::string with_way_to_lift(const Exclusion& exclusion, bool in_trial) {
  if (exclusion.lifted_by.empty()) return exclusion.reason + "; nothing lifts this rule";
  if (in_trial && exclusion.dangerous)
    return exclusion.reason + "; nothing lifts this rule in a trial";
  return exclusion.reason + "; " + exclusion.lifted_by + " lifts the rule, knowingly";
}

FamilyRule rule_between(const FamilyNature& a, const FamilyNature& b) {
  FamilyRule rule = rule_of_table(a, b);
  const auto clash = clash_of(a.nature, b.nature);
  if (!clash) return rule;
  rule.burns = clash->burns;
  rule.dangerous = true;
  const CompatibilityRule* stated = find_compatibility(a.family, b.family);
  if (stated != nullptr && stated->level == Compatibility::incompatible) return rule;
  const bool decided = !clash->burns && table_decides(*clash, a, b);
  if (decided && rule.level != Compatibility::incompatible) return rule;
  rule.known = true;
  rule.level = Compatibility::incompatible;
  rule.reason = shown(a, clash->first) + ", and " + shown(b, clash->second) + ": " +
                std::string(clash->danger);
  rule.source = clash->source;
  return rule;
}

}  // namespace leastwise
