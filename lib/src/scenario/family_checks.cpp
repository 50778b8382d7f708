#include "scenario/family_checks.hpp"

#include <leastwise/catalogue.hpp>
#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "base/codes.hpp"
#include "base/reading_stop.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
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
  StatedPairs(const ScenarioDraft& draft, std::span<const Material> materials,
              DiagnosticSink& diagnostics)
      : diagnostics_(diagnostics), of_variant_(draft.of_variant) {
    for (const auto& material : materials) learn(material.name, material.family);
    for (const auto& material : draft.materials) {
      const Material* built_in = find_built_in_material(material.name);
      const bool own = material.contains_percent || material.formula;
      learn(material.name, material.family    ? *material.family
                           : built_in && !own ? built_in->family
                           : of_material_.contains(material.name)
                               ? of_material_.find(material.name)->second
                               : material.name);
    }
    read({Compatibility::incompatible, "incompatible", draft.incompatible});
    read({Compatibility::limited, "limited", draft.limited});
    read({Compatibility::compatible, "compatible", draft.compatible});
  }

  [[nodiscard]] const std::map<FamilyPair, StatedLevel>& pairs() const { return pairs_; }
  /// Whether a material of the scenario, in use or not, is of the family.
  [[nodiscard]] bool has_material_of(const std::string& family) const {
    return families_.contains(family);
  }

 private:
  void learn(const std::string& material, const std::string& family) {
    families_.insert(family);
    of_material_.emplace(material, family);
  }

  void read(const PairList& list) {
    for (std::size_t i = 0; i < list.pairs.size(); ++i) {
      const std::string path = below(below("compatibility", list.key), std::to_string(i));
      if (diagnostics_.touched(path)) continue;
      const auto first = family_of(list.pairs[i].first, below(path, "0"));
      const auto second = family_of(list.pairs[i].second, below(path, "1"));
      if (first && second) add(*first, *second, list.level, path);
    }
  }

  /// The family meant: a family of a material here, or that of the material of this name.
  std::optional<std::string> family_of(const std::string& name, const std::string& path) {
    if (families_.contains(name)) return name;
    if (const auto known = of_material_.find(name); known != of_material_.end()) {
      return known->second;
    }
    if (find_family(name) != nullptr) return name;
    if (diagnostics_.touched("materials") || diagnostics_.touched("catalogue")) return std::nullopt;
    const Material* built_in = find_built_in_material(name);
    if (built_in != nullptr && (of_variant_ || families_.contains(built_in->family))) {
      return built_in->family;
    }
    if (built_in != nullptr) {
      diagnostics_.error(codes::unknown_family, path,
                         "the pair changes nothing: " + in_quotes(name) +
                             " is no material of the scenario, and none is of its family, " +
                             in_quotes(built_in->family) +
                             "; name the material that is meant, or take the pair out");
      return std::nullopt;
    }
    Suggestion suggestion(name);
    for (const auto& known : families_) suggestion.offer(known);
    for (const auto& [material, unused] : of_material_) suggestion.offer(material);
    for (const auto& known : built_in_families()) suggestion.offer(known.name);
    diagnostics_.error(
        codes::unknown_family, path,
        "expected a family of the compatibility table or of a material, or a material, found " +
            in_quotes(name) + suggestion.question());
    return std::nullopt;
  }

  void add(const std::string& a, const std::string& b, Compatibility level,
           const std::string& path) {
    const FamilyPair pair = family_pair(a, b);
    const std::string names = in_quotes(pair.first) + " and " + in_quotes(pair.second);
    if (pair.first == pair.second) {
      diagnostics_.error(
          codes::family_with_itself, path,
          "a pair must be of two different families, found " + in_quotes(pair.first) + " twice");
      return;
    }
    const auto [first, is_new] = pairs_.emplace(pair, StatedLevel{level, path});
    if (is_new) return;
    diagnostics_.error(codes::contradictory_pair, path,
                       "the pair " + names + " must be listed once, found it " +
                           (first->second.level == level ? "twice" : "in two lists"));
    diagnostics_.also(first->second.path, "first listed here");
  }

  DiagnosticSink& diagnostics_;
  bool of_variant_ = false;
  std::set<std::string, std::less<>> families_{};
  std::map<std::string, std::string, std::less<>> of_material_{};
  std::map<FamilyPair, StatedLevel> pairs_{};
};

/// Families whose rules are alike: the same families of the table and the same hazards. With
/// thousands of materials, few pairs of such groups have a rule at all.
std::string signature_of(const FamilyNature& of) {
  std::string signature = find_family(of.family) == nullptr ? "" : of.family;
  for (const auto& family : of.nature.families) signature += "|" + family;
  for (const auto& hazard : of.nature.hazards) {
    signature += "#" + std::to_string(static_cast<int>(hazard.kind));
  }
  return signature;
}

using Groups = std::map<std::string, std::vector<const FamilyNature*>>;

Groups groups_of(const std::vector<FamilyNature>& families) {
  Groups groups;
  for (const auto& family : families) groups[signature_of(family)].push_back(&family);
  groups.erase("");
  return groups;
}

}  // namespace

void ScenarioBuilder::lift_rule(const FamilyPair& pair, const FamilyRule& known,
                                Compatibility level, const std::string& path) {
  if (known.level != Compatibility::incompatible || level == Compatibility::incompatible) return;
  const std::string names = in_quotes(pair.first) + " and " + in_quotes(pair.second);
  if (known.burns) {
    diagnostics_.error(codes::dangerous_pair, path,
                       "the rule that keeps " + names + " apart cannot be lifted: " + known.reason);
    return;
  }
  add_note(NoteLevel::warning, NoteCode::rule_lifted, {pair.first, pair.second},
           "the scenario lifts the rule that keeps " + names +
               " apart; the hazard stays: " + known.reason,
           known.source);
  scenario_.lifted_rules_.push_back(
      {pair.first, pair.second, known.reason, known.source, known.dangerous, path});
}

/// A fuel is never released to an oxidizer, not even where one of them is not in use.
void ScenarioBuilder::check_absent_pair(const FamilyPair& pair, Compatibility level,
                                        const std::string& path) {
  if (level == Compatibility::incompatible) return;
  const auto burn = [](const std::string& a, const std::string& b) {
    return family_has(a, HazardClass::oxidizer) && family_has(b, HazardClass::fuel);
  };
  if (!burn(pair.first, pair.second) && !burn(pair.second, pair.first)) return;
  diagnostics_.error(codes::dangerous_pair, path,
                     "the rule that keeps " + in_quotes(pair.first) + " and " +
                         in_quotes(pair.second) +
                         " apart cannot be lifted: one is a fuel, the other an oxidizer that feeds "
                         "its fire: the mixture can burn or explode");
}

void ScenarioBuilder::resolve_compatibility() {
  const StatedPairs stated(draft_, scenario_.materials_, diagnostics_);
  const std::vector<FamilyNature> families = natures_of_families(scenario_.materials_, natures_);
  std::map<FamilyPair, Exclusion> rules;
  const auto add = [&](const FamilyNature& a, const FamilyNature& b) {
    const bool in_order = a.family < b.family;
    const FamilyNature& first = in_order ? a : b;
    const FamilyNature& second = in_order ? b : a;
    FamilyRule rule = rule_between(first, second);
    if (!rule.known) return;
    const FamilyPair pair{first.family, second.family};
    rules[pair] = {first.family, second.family, rule.level,     rule.reason,
                   {},           rule.source,   rule.dangerous, way_to_lift(pair, rule)};
  };
  const Groups groups = groups_of(families);
  for (auto a = groups.begin(); a != groups.end(); ++a) {
    leave_if_asked(stop_);
    for (auto b = a; b != groups.end(); ++b) {
      if (a == b && a->second.size() < 2) continue;
      const FamilyNature& of_b = a == b ? *a->second.back() : *b->second.front();
      if (!rule_between(*a->second.front(), of_b).known) continue;
      for (const auto* of_a : a->second) {
        for (const auto* other : b->second) {
          if (of_a != other) add(*of_a, *other);
        }
      }
    }
  }
  const auto nature_named = [&](const std::string& name) {
    const auto found = std::ranges::find(families, name, &FamilyNature::family);
    return found == families.end() ? nullptr : &*found;
  };
  for (const auto& [pair, statement] : stated.pairs()) {
    const FamilyNature* first = nature_named(pair.first);
    const FamilyNature* second = nature_named(pair.second);
    if (first == nullptr || second == nullptr) {
      check_absent_pair(pair, statement.level, statement.path);
      for (const auto& family : {pair.first, pair.second}) {
        if (draft_.of_variant || stated.has_material_of(family)) continue;
        add_note(NoteLevel::warning, NoteCode::pair_without_effect, {pair.first, pair.second},
                 "the pair " + in_quotes(pair.first) + " and " + in_quotes(pair.second) +
                     " under compatibility changes nothing: no material is of family " +
                     in_quotes(family) + "; name the material that is meant");
      }
      continue;
    }
    const FamilyRule known = rule_between(*first, *second);
    lift_rule(pair, known, statement.level, statement.path);
    const bool has_reason = known.known && known.level != Compatibility::compatible;
    const bool own = !known.known || known.level != Compatibility::incompatible;
    rules[pair] = {
        pair.first,
        pair.second,
        statement.level,
        has_reason ? known.reason : std::string("the scenario lists the pair"),
        statement.path,
        has_reason ? known.source : std::string(),
        known.dangerous && !own,
        own ? "taking the pair out of incompatible under compatibility" : way_to_lift(pair, known)};
    if (!own && !known.burns && statement.level == Compatibility::incompatible) {
      rules[pair].lifted_by += ", in place of the pair under incompatible,";
    }
  }
  const bool forbid = draft_.limited_compatibility == LimitedCompatibility::forbid;
  for (auto& [pair, rule] : rules) {
    if (rule.level == Compatibility::compatible) continue;
    const bool excluded = rule.level == Compatibility::incompatible || forbid;
    if (excluded && rule.level == Compatibility::limited) {
      rule.lifted_by = "limited_compatibility: allow under blend";
    }
    (excluded ? scenario_.exclusions_ : scenario_.limited_pairs_).push_back(std::move(rule));
  }
}

}  // namespace leastwise
