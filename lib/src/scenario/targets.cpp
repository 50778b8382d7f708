#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <set>
#include <string_view>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "chemistry/nutrients/synonyms.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
namespace {

bool any_minimum(const std::vector<Target>& targets) {
  return std::any_of(targets.begin(), targets.end(),
                     [](const Target& target) { return target.limits.min > 0; });
}

bool begins_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

bool is_rate(const std::string& path) { return begins_with(path, "rates_kg_per_ha"); }

}  // namespace

void ScenarioBuilder::resolve_basis() {
  const bool rates_given =
      !draft_.rates_kg_per_ha.empty() || diagnostics_.touched("rates_kg_per_ha");
  scenario_.basis_ = rates_given ? Basis::per_hectare : Basis::per_tonne;
}

void ScenarioBuilder::resolve_targets() {
  scenario_.rates_ = resolve(draft_.rates_kg_per_ha, "rates_kg_per_ha", true);
  scenario_.grades_ = resolve(draft_.grade_percent, "grade_percent", false);
  check_something_is_asked();
}

std::vector<Target> ScenarioBuilder::resolve(const std::vector<TargetDraft>& drafts,
                                             std::string_view list, bool is_rate) {
  std::vector<Target> targets;
  std::set<std::string_view> seen;
  for (const auto& draft : drafts) {
    const std::string path = below(list, draft.nutrient);
    const std::string what =
        (is_rate ? "the rate of " : "the grade of ") + in_quotes(draft.nutrient);
    if (!checks_.name(path, "the name of a nutrient", draft.nutrient)) continue;
    if (!seen.insert(draft.nutrient).second) {
      diagnostics_.error(codes::duplicate_name, path, what + " is given twice");
    }
    checks_.limits(path, what, draft.limits, is_rate ? rate_range : percent_range);
    check_contained(draft.nutrient, path, "a minimum", draft.limits);
    Target target;
    target.nutrient = draft.nutrient;
    target.limits = draft.limits;
    target.path = path;
    resolve_confidence(draft, target);
    resolve_tolerance(draft, is_rate, target);
    targets.push_back(std::move(target));
  }
  return targets;
}

bool ScenarioBuilder::contained(const std::string& name) const {
  return std::any_of(scenario_.materials_.begin(), scenario_.materials_.end(),
                     [&](const Material& material) {
                       return material.can_enter() && content_percent(material, name) > 0;
                     });
}

bool ScenarioBuilder::hides_contents(std::string_view path) const {
  const auto is_at = [path](std::string_view place) {
    return path == place || (path.starts_with(place) && path[place.size()] == '.');
  };
  if (path == "materials" || is_at("use") || is_at("catalogue")) return true;
  if (!is_at("materials")) return false;
  constexpr std::array<std::string_view, 7> keys{"contains_percent",
                                                 "contains_also_percent",
                                                 "analysis_percent",
                                                 "formula",
                                                 "form",
                                                 "purity_percent",
                                                 "ground"};
  bool known = false;
  for (const auto& material : draft_.materials) {
    const std::string own = path_of(material);
    if (!is_at(own)) continue;
    known = true;
    if (path == own ||
        std::ranges::any_of(keys, [&](std::string_view key) { return is_at(below(own, key)); }))
      return true;
  }
  return !known;  // of a material that could not be read at all
}

void ScenarioBuilder::check_contained(const std::string& name, const std::string& path,
                                      std::string_view rule, const Limits& limits) {
  if (scenario_.materials_.empty() || contained(name)) return;
  if (diagnostics_.any_wrong([this](const std::string& p) { return hides_contents(p); })) return;
  Suggestion suggestion(name);
  if (const auto meant = meaning_of(SynonymOf::nutrient, name)) {
    suggestion.settle(*meant);
  } else if (kind_of(name) == NameKind::property) {  // the others are no slip of the pen
    for (const auto& material : scenario_.materials_) {
      for (const auto& content : material.contains_percent) suggestion.offer(content.name);
    }
    for (const auto known : known_names()) suggestion.offer(known);
  }
  if (!(limits.min > 0)) {
    add_note(NoteLevel::warning, NoteCode::maximum_always_met, {std::string(name)},
             "no material contains " + in_quotes(name) + ", so its maximum is always met" +
                 suggestion.question());
    return;
  }
  const std::string needs =
      std::string(rule) + " needs a material that contains " + in_quotes(name);
  std::vector<std::string> barred;
  for (const auto& material : scenario_.materials_) {
    if (content_percent(material, name) > 0) barred.push_back(material.name);
  }
  if (barred.empty()) {
    diagnostics_.error(codes::unknown_nutrient, path,
                       needs + ", found none" + suggestion.question());
    return;
  }
  diagnostics_.error(codes::unknown_nutrient, path,
                     needs + " and may enter a blend, found only " + listed(barred) +
                         ": crystals and fines never enter; add ground: true where "
                         "they will be ground to a powder");
}

void ScenarioBuilder::check_something_is_asked() {
  if (draft_.rates_kg_per_ha.empty() && draft_.grade_percent.empty()) {
    if (diagnostics_.touched("rates_kg_per_ha") || diagnostics_.touched("grade_percent")) return;
    diagnostics_.error(codes::nothing_asked, "rates_kg_per_ha",
                       "a scenario must ask for something, found neither rates_kg_per_ha nor "
                       "grade_percent; add one of them");
    return;
  }
  if (scenario_.basis_ == Basis::per_tonne || diagnostics_.touched("blend.total_kg_per_ha") ||
      diagnostics_.unreadable("blend") || diagnostics_.any_wrong(is_rate)) {
    return;
  }
  if (any_minimum(scenario_.rates_)) return;
  if (draft_.total_kg_per_ha && draft_.total_kg_per_ha->min > 0) return;
  diagnostics_.error(codes::nothing_asked, "rates_kg_per_ha",
                     "at least one rate must have a minimum above 0, found none, so spreading "
                     "nothing would do; add a minimum, or total_kg_per_ha with a min under blend");
}

void ScenarioBuilder::resolve_ratios() {
  for (std::size_t i = 0; i < draft_.ratios.size(); ++i) {
    const RatioDraft& draft = draft_.ratios[i];
    const std::string path = below("ratios", std::to_string(i));
    const std::string what = "the ratio of " + in_quotes(draft.of) + " to " + in_quotes(draft.to);
    const bool named = !diagnostics_.touched(below(path, "of")) &&
                       !diagnostics_.touched(below(path, "to")) &&
                       checks_.name(below(path, "of"), "the first name of a ratio", draft.of) &&
                       checks_.name(below(path, "to"), "the second name of a ratio", draft.to);
    checks_.limits(path, named ? what : "a ratio", draft.limits, ratio_range);
    if (!named) continue;
    if (draft.of == draft.to) {
      diagnostics_.error(
          codes::ratio_of_itself, path,
          "a ratio must be of two different names, found " + in_quotes(draft.of) + " twice");
    } else {
      const Limits needed{1, 1};
      check_contained(draft.of, below(path, "of"), "a ratio", needed);
      check_contained(draft.to, below(path, "to"), "a ratio", needed);
    }
    scenario_.ratios_.push_back({draft.of, draft.to, draft.limits, {}, {}, path});
  }
}

}  // namespace leastwise
