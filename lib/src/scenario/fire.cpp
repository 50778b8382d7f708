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

constexpr std::string_view oil_hazard =
    "oil or other organic matter on an oxidizer can burn or explode, and local codes forbid it; ";

/// What a stated family of the table must not hide.
constexpr std::array weighty{HazardClass::oxidizer, HazardClass::fuel, HazardClass::urea,
                             HazardClass::alkaline};

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
    findings_.error(codes::refused_material, place_of_material(material),
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
    if (findings_.touched(path)) continue;
    for (const HazardClass kind : weighty) {
      const Hazard* found = natures_[i].find(kind);
      if (found == nullptr || !is_hard_evidence(*found)) continue;
      if (family_has(material.family, kind)) continue;
      const auto defined = drafts_.find(material.name);
      const bool stated = defined != drafts_.end() && defined->second->family;
      findings_.error(
          codes::family_contradicts, stated ? below(path, "family") : path,
          "the family of " + in_quotes(material.name) + ", " + in_quotes(material.family) +
              ", cannot be right: " + because(in_quotes(material.name), natures_[i], kind) +
              "; state the family that it is of, or mend its contents");
      break;
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
    }
    if (list.size() < 2 || !clash_of(all, all)) continue;
    check_members(list);
  }
}

void ScenarioBuilder::check_members(const std::vector<std::size_t>& list) {
  for (std::size_t a = 0; a < list.size(); ++a) {
    for (std::size_t b = a + 1; b < list.size(); ++b) {
      const Material& first = scenario_.materials_[list[a]];
      const Material& second = scenario_.materials_[list[b]];
      const auto clash = clash_of(natures_[list[a]], natures_[list[b]]);
      if (!clash || is_of_families(*clash, first.family, second.family)) continue;
      findings_.error(codes::oxidizer_with_fuel, place_of_material(second),
                      because(in_quotes(first.name), natures_[list[a]], clash->first) + ", and " +
                          because(in_quotes(second.name), natures_[list[b]], clash->second) + ": " +
                          std::string(clash->danger) + ", and in one family, " +
                          in_quotes(first.family) +
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
    if (findings_.touched(path)) continue;
    Suggestion suggestion(material.family);
    for (const auto& family : built_in_families()) suggestion.offer(family.name);
    if (!natures_[i].families.empty()) suggestion.settle(natures_[i].families.front());
    findings_.error(
        codes::unknown_beside_oxidizer, path,
        "what " + in_quotes(material.name) + " is, is not known, and " + listed(oxidizers, 3) +
            (oxidizers.size() == 1 ? " is an oxidizer" : " are oxidizers") +
            ": together with anything that burns they can burn or explode; state a family of the "
            "table for " +
            in_quotes(material.name) + ", or its formula" +
            (suggestion.best() ? "; did you mean family: " + *suggestion.best() + "?" : ""));
  }
}

void ScenarioBuilder::check_binder_statement() {
  if (!draft_.binder || !draft_.binder->organic || findings_.touched("blend.binder")) return;
  const std::string& name = draft_.binder->material;
  if (name.empty()) {
    findings_.error(codes::missing_key, "blend.binder",
                    "organic must be said of a named binder, found no material; add material");
    return;
  }
  if (*draft_.binder->organic) return;
  const BinderEvidence evidence = evidence_on_binder(name);
  if (evidence.nature != BinderNature::organic) return;
  findings_.error(codes::organic_binder_denied, "blend.binder.organic",
                  in_quotes(name) + " is organic because " + evidence.reason +
                      ", so organic: false is not true of it; take the line out");
}

void ScenarioBuilder::check_binder_on(const std::vector<std::string>& oxidizers) {
  if (findings_.touched("blend.binder")) return;
  const bool any_powder =
      std::any_of(scenario_.materials_.begin(), scenario_.materials_.end(),
                  [](const Material& m) { return m.form_used() == Form::powder; });
  const std::string fix = std::string(oil_hazard) + "leave " + listed(oxidizers, 3) +
                          " out with use, or name an inorganic binder";
  if (!draft_.binder || draft_.binder->material.empty()) {
    if (!any_powder) return;
    const auto defined = drafts_.find(oxidizers.front());
    findings_.error(codes::oxidizer_with_organic_binder,
                    draft_.binder              ? "blend.binder"
                    : defined == drafts_.end() ? "use"
                                               : path_of(*defined->second),
                    "powders need a binder and none is named; it may be an oil, which must not "
                    "touch " +
                        listed(oxidizers, 3) + ": " + fix);
    return;
  }
  const std::string& name = draft_.binder->material;
  const BinderEvidence evidence = evidence_on_binder(name);
  const bool called_organic = draft_.binder->organic == true;
  if (evidence.nature == BinderNature::inorganic && !called_organic) return;
  const bool vouched = evidence.nature == BinderNature::unknown && draft_.binder->organic == false;
  if (vouched) {
    remark(NoteLevel::warning, NoteCode::binder_stated_inorganic, {name},
           "the table of binders does not know " + in_quotes(name) +
               "; the scenario states that it holds no oil or other organic matter: have its "
               "supplier confirm that in writing before it touches " +
               listed(oxidizers, 3) + ", since organic matter on an oxidizer can explode");
    return;
  }
  findings_.error(
      codes::oxidizer_with_organic_binder, "blend.binder.material",
      "the binder " + in_quotes(name) +
          (evidence.nature == BinderNature::unknown ? " is not known to be inorganic"
                                                    : " is organic because " + evidence.reason) +
          " and must not touch " + listed(oxidizers, 3) + ": " + fix);
}

/// Binders that are no fuel can still react with what they coat.
void ScenarioBuilder::remark_on_binder_reactions() {
  const std::string& name = scenario_.binder_.material;
  const bool any_powder =
      std::any_of(scenario_.materials_.begin(), scenario_.materials_.end(),
                  [](const Material& m) { return m.form_used() == Form::powder; });
  if (name.empty() || !any_powder) return;
  const BinderEvidence evidence = evidence_on_binder(name);
  const auto names_with = [&](auto shows) {
    std::vector<std::string> names;
    for (std::size_t i = 0; i < natures_.size(); ++i) {
      if (scenario_.materials_[i].can_enter() && shows(natures_[i])) {
        names.push_back(scenario_.materials_[i].name);
      }
    }
    return names;
  };
  const auto add = [&](const std::vector<std::string>& names, const std::string& text) {
    if (names.empty()) return;
    std::vector<std::string> subjects{name};
    subjects.insert(subjects.end(), names.begin(), names.end());
    remark(NoteLevel::warning, NoteCode::binder_reacts, std::move(subjects),
           "the binder " + in_quotes(name) + text + listed(names));
  };
  if (evidence.alkaline) {
    add(names_with([](const Nature& n) { return n.has(HazardClass::ammonium); }),
        " is alkaline and drives ammonia out of ammonium salts (from memory): work outdoors, and "
        "do not close the pack of a blend with ");
  }
  if (evidence.chloride) {
    add(names_with([](const Nature& n) {
          return n.has(HazardClass::ammonium) && n.has(HazardClass::oxidizer);
        }),
        " brings chloride, which promotes the decomposition of ammonium nitrate (Regulation (EU) "
        "2019/1009 Annex I PFC 1(C)(I)(a)): do not store a blend with ");
  }
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
}

}  // namespace leastwise
