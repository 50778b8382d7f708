#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "chemistry/hazard/binder_nature.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
namespace {

constexpr std::string_view oil_hazard =
    "oil or other organic matter on an oxidizer can burn or explode, and local codes forbid it; ";

}  // namespace

void ScenarioBuilder::check_binder_statement() {
  if (!draft_.binder || !draft_.binder->organic || diagnostics_.touched("blend.binder")) return;
  const std::string& name = draft_.binder->material;
  if (name.empty()) {
    diagnostics_.error(codes::missing_key, "blend.binder",
                       "organic must be said of a named binder, found no material; add material");
    return;
  }
  if (*draft_.binder->organic) return;
  const BinderEvidence evidence = evidence_on_binder(name);
  if (evidence.nature != BinderNature::organic) return;
  diagnostics_.error(codes::organic_binder_denied, "blend.binder.organic",
                     in_quotes(name) + " is organic because " + evidence.reason +
                         ", so organic: false is not true of it; take the line out");
}

void ScenarioBuilder::check_binder_on(const std::vector<std::string>& oxidizers) {
  if (diagnostics_.touched("blend.binder")) return;
  const bool any_powder =
      std::any_of(scenario_.materials_.begin(), scenario_.materials_.end(),
                  [](const Material& m) { return m.form_used() == Form::powder; });
  const std::string fix = std::string(oil_hazard) + "leave " + listed(oxidizers, 3) +
                          " out with use, or name an inorganic binder";
  if (!draft_.binder || draft_.binder->material.empty()) {
    if (!any_powder) return;
    const auto defined = drafts_.find(oxidizers.front());
    diagnostics_.error(codes::oxidizer_with_organic_binder,
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
    add_note(NoteLevel::warning, NoteCode::binder_stated_inorganic, {name},
             "the table of binders does not know " + in_quotes(name) +
                 "; the scenario states that it holds no oil or other organic matter: have its "
                 "supplier confirm that in writing before it touches " +
                 listed(oxidizers, 3) + ", since organic matter on an oxidizer can explode");
    return;
  }
  diagnostics_.error(
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
  const auto add = [&](const std::vector<std::string>& names, const std::string& text,
                       std::string source) {
    if (names.empty()) return;
    std::vector<std::string> subjects{name};
    subjects.insert(subjects.end(), names.begin(), names.end());
    add_note(NoteLevel::warning, NoteCode::binder_reacts, std::move(subjects),
             "the binder " + in_quotes(name) + text + listed(names), std::move(source));
  };
  if (evidence.alkaline) {
    add(names_with([](const Nature& n) { return n.has(HazardClass::ammonium); }),
        " is alkaline and drives ammonia out of ammonium salts (from memory): work outdoors, and "
        "do not close the pack of a blend with ",
        "chemistry of the substance (from memory)");
  }
  if (evidence.chloride) {
    add(names_with([](const Nature& n) {
          return n.has(HazardClass::ammonium) && n.has(HazardClass::oxidizer);
        }),
        " brings chloride, which promotes the decomposition of ammonium nitrate (Regulation (EU) "
        "2019/1009 Annex I PFC 1(C)(I)(a)): do not store a blend with ",
        "Regulation (EU) 2019/1009 Annex I PFC 1(C)(I)(a)");
  }
}

}  // namespace leastwise
