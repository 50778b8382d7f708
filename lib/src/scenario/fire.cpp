#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <array>
#include <map>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "chemistry/hazard/binder_nature.hpp"
#include "chemistry/hazard/clashes.hpp"
#include "scenario/builder.hpp"
#include "scenario/family_checks.hpp"

namespace leastwise {
namespace {

/// What a stated family of the table must not hide.
constexpr std::array weighty{HazardClass::oxidizer, HazardClass::fuel, HazardClass::urea,
                             HazardClass::alkaline};

bool any_kept_apart(const std::vector<std::string>& families) {
  return std::ranges::any_of(families, [&](const std::string& a) {
    return std::ranges::any_of(families, [&](const std::string& b) {
      const CompatibilityRule* rule = find_compatibility(a, b);
      return rule != nullptr && rule->level == Compatibility::incompatible;
    });
  });
}

bool is_hard_evidence(const Hazard& found) {
  if (found.doubt) return false;
  if (found.evidence == Evidence::contents && found.kind == HazardClass::fuel) {
    return found.source.starts_with("stoichiometry");
  }
  return found.evidence == Evidence::formula || found.evidence == Evidence::contents ||
         found.evidence == Evidence::catalogue;
}

}  // namespace

std::string ScenarioBuilder::place_of_material(const Material& material) const {
  const auto defined = drafts_.find(material.name);
  if (defined != drafts_.end()) return path_of(*defined->second);
  const auto used = used_.find(material.name);
  return used == used_.end() ? "use" : below("use", std::to_string(used->second));
}

void ScenarioBuilder::check_refused() {
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    const Hazard* refused = natures_[i].find(HazardClass::refused);
    if (refused == nullptr) continue;
    diagnostics_.error(codes::refused_material, place_of_material(material),
                       in_quotes(material.name) + " is refused because " + refused->reason +
                           "; take it out, whatever the amount");
  }
}

/// A family that hides what formula, contents or catalogue show would lift its rules.
void ScenarioBuilder::check_families_are_true() {
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (find_family(material.family) == nullptr) continue;
    const std::string path = place_of_material(material);
    if (diagnostics_.touched(path)) continue;
    const auto defined = drafts_.find(material.name);
    const bool stated = defined != drafts_.end() && defined->second->family;
    const std::string place = stated ? below(path, "family") : path;
    for (const HazardClass kind : weighty) {
      const Hazard* found = natures_[i].find(kind);
      if (found == nullptr || !is_hard_evidence(*found)) continue;
      if (family_has(material.family, kind)) continue;
      diagnostics_.error(
          codes::family_contradicts, place,
          "the family of " + in_quotes(material.name) + ", " + in_quotes(material.family) +
              ", cannot be right: " + because(in_quotes(material.name), natures_[i], kind) +
              "; state the family that it is of, or mend its contents");
      break;
    }
    const double nitrogen = content_percent(material, "N");
    const double most = find_family(material.family)->most_nitrogen_percent;
    if (stated && nitrogen > most && !diagnostics_.touched(place)) {
      diagnostics_.error(codes::family_contradicts, place,
                         "the family of " + in_quotes(material.name) + ", " +
                             in_quotes(material.family) + ", cannot be right: it states " +
                             rounded_text(nitrogen) +
                             " % of N, and goods of that family hold at most " + number_text(most) +
                             " %; state the family that it is of, or mend its contents");
    }
  }
}

/// Families are what is kept apart: two materials of one family never would be.
void ScenarioBuilder::check_clashes_within_families() {
  std::map<std::string_view, std::vector<std::size_t>> members;
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (material.can_enter() && !natures_[i].hazards.empty()) {
      members[material.family].push_back(i);
    }
  }
  for (const auto& [family, list] : members) {
    Nature all;
    for (const auto i : list) {
      all.hazards.insert(all.hazards.end(), natures_[i].hazards.begin(), natures_[i].hazards.end());
      all.families.insert(all.families.end(), natures_[i].families.begin(),
                          natures_[i].families.end());
    }
    if (list.size() > 1 && (clash_of(all, all) || any_kept_apart(all.families)))
      check_members(list);
  }
}

/// Families that the materials count as, beside the one that both state, may be kept apart.
bool ScenarioBuilder::check_kept_apart(const Material& first, const Nature& of_first,
                                       const Material& second, const Nature& of_second) {
  for (const auto& a : of_first.families) {
    for (const auto& b : of_second.families) {
      if (a == first.family && b == second.family) continue;
      const CompatibilityRule* rule = find_compatibility(a, b);
      if (rule == nullptr || rule->level != Compatibility::incompatible) continue;
      diagnostics_.error(codes::oxidizer_with_fuel, place_of_material(second),
                         in_quotes(first.name) + " counts as " + a + ", and " +
                             in_quotes(second.name) + " as " + b + ": " + rule->reason +
                             ", and in one family, " + in_quotes(first.family) +
                             ", nothing keeps them apart; give each the family that it is of");
      return true;
    }
  }
  return false;
}

void ScenarioBuilder::check_members(const std::vector<std::size_t>& list) {
  for (std::size_t a = 0; a < list.size(); ++a) {
    for (std::size_t b = a + 1; b < list.size(); ++b) {
      const Material& first = scenario_.materials_[list[a]];
      const Material& second = scenario_.materials_[list[b]];
      const auto clash = clash_of(natures_[list[a]], natures_[list[b]]);
      if (!clash && check_kept_apart(first, natures_[list[a]], second, natures_[list[b]])) return;
      if (!clash || is_of_families(*clash, first.family, second.family)) continue;
      diagnostics_.error(
          codes::oxidizer_with_fuel, place_of_material(second),
          because(in_quotes(first.name), natures_[list[a]], clash->first) + ", and " +
              because(in_quotes(second.name), natures_[list[b]], clash->second) + ": " +
              std::string(clash->danger) + ", and in one family, " + in_quotes(first.family) +
              ", nothing keeps them apart; give each the family that it is of");
      return;
    }
  }
}

/// Two materials in doubt are cautioned about; beside a certain oxidizer doubt is an error.
void ScenarioBuilder::check_unknown_beside() {
  std::vector<std::string> oxidizers;
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Hazard* hazard = natures_[i].find(HazardClass::oxidizer);
    if (hazard == nullptr || hazard->doubt || !scenario_.materials_[i].can_enter()) continue;
    oxidizers.push_back(scenario_.materials_[i].name);
  }
  if (oxidizers.empty()) return;
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (natures_[i].known || !material.can_enter()) continue;
    const std::string path = place_of_material(material);
    if (diagnostics_.touched(path)) continue;
    Suggestion suggestion(material.family);
    for (const auto& family : built_in_families()) suggestion.offer(family.name);
    if (!natures_[i].families.empty()) suggestion.settle(natures_[i].families.front());
    diagnostics_.error(
        codes::unknown_beside_oxidizer, path,
        "what " + in_quotes(material.name) + " is, is not known, and " + listed(oxidizers, 3) +
            (oxidizers.size() == 1 ? " is an oxidizer" : " are oxidizers") +
            ": together with anything that burns they can burn or explode; state a family of the "
            "table for " +
            in_quotes(material.name) + ", or its formula" +
            (suggestion.best() ? "; did you mean family: " + *suggestion.best() + "?" : ""));
  }
}

/// A stated family settles what a material is; who stated it must be sure beside an oxidizer.
void ScenarioBuilder::remark_on_stated_natures(const std::vector<std::string>& oxidizers) {
  std::vector<std::string> names;
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (material.can_enter() && natures_[i].only_stated) names.push_back(material.name);
  }
  if (names.empty()) return;
  add_note(NoteLevel::warning, NoteCode::nature_stated, names,
           "only the stated family says what " + listed(names) +
               (names.size() == 1 ? " is" : " are") +
               ", neither contents nor a formula: make sure that nothing in it burns before it "
               "touches " +
               listed(oxidizers, 3) + ", since organic matter on an oxidizer can explode");
}

void ScenarioBuilder::check_fire() {
  check_refused();
  check_families_are_true();
  check_clashes_within_families();
  check_binder_statement();
  std::vector<std::string> oxidizers;
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (material.can_enter() && natures_[i].has(HazardClass::oxidizer)) {
      oxidizers.push_back(material.name);
    }
  }
  if (oxidizers.empty()) return;
  check_unknown_beside();
  check_binder_on(oxidizers);
  remark_on_stated_natures(oxidizers);
}

}  // namespace leastwise
