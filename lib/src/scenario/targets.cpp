#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <set>
#include <string_view>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "chemistry/materials/published_figures.hpp"
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

/// What a limit on `name` may be.
Range limit_range(const std::string& name, bool is_rate) {
  // A lime need changes its sign with the limestone: a limit of 0 would be kept by chance only.
  if (name == lime_need_name) {
    Range range = is_rate ? rate_range : percent_range;
    range.above_min = true;
    return range;
  }
  if (is_rate) return rate_range;
  return is_percentage(name) ? percent_range : ratio_range;
}

/// Whether two names count something twice when they are added up.
bool overlap(std::string_view a, std::string_view b) {
  if (a == b) return true;
  const auto parent_a = parent_of_form(a);
  const auto parent_b = parent_of_form(b);
  if (parent_a && parent_b) {
    const auto apart = [](std::string_view form) {
      return form == "N-urea" || form == "N-ammonium" || form == "N-nitrate";
    };
    return *parent_a == *parent_b && !(apart(a) && apart(b));
  }
  const auto whole_a = element_of(parent_a.value_or(a));
  return whole_a && whole_a == element_of(parent_b.value_or(b));
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
    if (!check_sum(path, draft.nutrient)) continue;
    if (is_rate && !check_is_mass(path, draft.nutrient, "a rate")) continue;
    if (!seen.insert(draft.nutrient).second) {
      diagnostics_.error(codes::duplicate_name, path, what + " is given twice");
    }
    checks_.limits(path, what, draft.limits, limit_range(draft.nutrient, is_rate));
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

bool ScenarioBuilder::check_sum(const std::string& path, const std::string& name) {
  const auto parts = parts_of_sum(name);
  if (parts.size() == 1) return true;
  bool good = true;
  const auto complain = [&](const std::string& what) {
    good = false;
    diagnostics_.error(codes::bad_sum, path, what + " in the sum " + in_quotes(name));
  };
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const std::string part(parts[i]);
    if (part.empty()) {
      complain("a name must stand on both sides of a plus sign, found nothing on one");
      break;
    }
    if (!is_percentage(part) || part == lime_need_name)
      complain("a sum adds up masses, found " + in_quotes(part));
    else if (kind_of(part) == NameKind::property)
      check_contained(part, path, "a sum", {1, 1});
    for (std::size_t k = 0; k < i; ++k)
      if (overlap(parts[k], part))
        complain("a sum must count everything once, found " + in_quotes(parts[k]) + " and " +
                 in_quotes(part));
  }
  return good;
}

bool ScenarioBuilder::check_is_mass(const std::string& path, const std::string& name,
                                    std::string_view what) {
  const bool of_ratio = what == "a ratio";
  if (is_percentage(name) && !(of_ratio && name == lime_need_name)) return true;
  diagnostics_.error(codes::misplaced_key, path,
                     std::string(what) + " is of masses, and " + in_quotes(name) +
                         " is none; limit it under grade_percent");
  return false;
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
    const auto is_mass = [&](const char* key, const std::string& name) {
      return check_sum(below(path, key), name) && check_is_mass(below(path, key), name, "a ratio");
    };
    if (!is_mass("of", draft.of) || !is_mass("to", draft.to)) continue;
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
