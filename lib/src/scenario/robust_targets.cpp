#include <leastwise/tolerance.hpp>

#include <algorithm>
#include <cmath>

#include "base/codes.hpp"
#include "base/numeric/normal_quantile.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "chemistry/materials/published_figures.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
namespace {

constexpr Range confidence_range{0.5, 0.9999, false, ""};

/// How many of N, P2O5 and K2O a label with these grades declares.
int primary_nutrients(const std::vector<TargetDraft>& grades) {
  int count = 0;
  for (const auto& names : {std::pair{"N", "N"}, std::pair{"P2O5", "P"}, std::pair{"K2O", "K"}})
    if (std::any_of(grades.begin(), grades.end(), [&](const TargetDraft& grade) {
          return grade.limits.min > 0 &&
                 (grade.nutrient == names.first || grade.nutrient == names.second);
        }))
      ++count;
  return count;
}

/// The spread of `name` in `material`, converted like its content.
double spread_of(const Material& material, std::string_view name) {
  Material spreads;
  spreads.contains_percent = material.spread_percent;
  return content_percent(spreads, name);
}

}  // namespace

void ScenarioBuilder::resolve_confidence(const TargetDraft& draft, Target& target) {
  if (!draft.confidence) return;
  const std::string path = below(target.path, "confidence");
  if (!checks_.number(path, "the confidence of " + in_quotes(draft.nutrient), *draft.confidence,
                      confidence_range))
    return;
  if (draft.nutrient == lime_need_name) {
    diagnostics_.error(codes::misplaced_key, path,
                       "a confidence is for what is analysed, and 'lime-need' is from tables; "
                       "leave it out");
    return;
  }
  if (draft.limits.exact()) {
    diagnostics_.error(codes::needs_room, path,
                       "a confidence needs a limit to keep away from, found exactly " +
                           number_text(draft.limits.min) + "; give min or max instead");
    return;
  }
  target.confidence = draft.confidence;
}

void ScenarioBuilder::resolve_tolerance(const TargetDraft& draft, bool is_rate, Target& target) {
  if (draft.tolerance.empty()) return;
  const std::string path = below(target.path, "tolerance");
  const auto scheme = label_tolerance(draft.tolerance);
  if (!scheme) {
    Suggestion suggestion(draft.tolerance);
    for (const auto known : {LabelTolerance::aafco, LabelTolerance::eu_2019_1009})
      suggestion.offer(to_string(known));
    diagnostics_.error(codes::bad_choice, path,
                       "expected aafco or eu-2019-1009 for tolerance, found " +
                           in_quotes(draft.tolerance) + suggestion.question());
    return;
  }
  if (is_rate) {
    diagnostics_.error(codes::misplaced_key, path,
                       "a label tolerance belongs to a grade, found it with the rate of " +
                           in_quotes(draft.nutrient));
    return;
  }
  if (draft.limits.exact() || !draft.limits.has_min()) {
    diagnostics_.error(codes::needs_room, path,
                       "a label tolerance lowers a minimum, found " +
                           std::string(draft.limits.exact() ? "exactly" : "none") + " for " +
                           in_quotes(draft.nutrient) + "; give min");
    return;
  }
  if (!(draft.limits.min >= 0 && draft.limits.min <= 100)) return;  // complained of already
  const auto found =
      allowance(*scheme, draft.nutrient, draft.limits.min, primary_nutrients(draft_.grade_percent));
  if (!found) {
    diagnostics_.error(codes::no_tolerance, path,
                       "the published tolerances " + in_quotes(draft.tolerance) +
                           " have none for " + number_text(draft.limits.min) + " percent of " +
                           in_quotes(draft.nutrient) + "; they cover " +
                           listed(nutrients_of(*scheme), 30));
    return;
  }
  target.guarantee = draft.limits.min;
  target.limits.min = std::max(draft.limits.min - found->below, 0.0);
}

void ScenarioBuilder::resolve_margins() {
  for (auto* targets : {&scenario_.rates_, &scenario_.grades_}) {
    for (auto& target : *targets) {
      if (!target.confidence) continue;
      const double z = std::max(normal_quantile(*target.confidence), 0.0);
      bool any = false;
      for (const auto& material : scenario_.materials_) {
        const double margin = z * spread_of(material, target.nutrient);
        target.margin_percent.push_back(margin);
        any = any || (margin > 0 && material.can_enter());
      }
      if (any) continue;
      target.margin_percent.clear();
      if (std::none_of(scenario_.materials_.begin(), scenario_.materials_.end(),
                       [&](const Material& m) { return spread_of(m, target.nutrient) > 0; }))
        add_note(NoteLevel::warning, NoteCode::confidence_changes_nothing, {target.nutrient},
                 "the confidence asked for " + in_quotes(target.nutrient) +
                     " changes nothing: no material states its spread_percent");
    }
  }
}

void ScenarioBuilder::remark_on_tolerances() {
  const int primary = primary_nutrients(draft_.grade_percent);
  for (const auto& draft : draft_.grade_percent) {
    const auto scheme = label_tolerance(draft.tolerance);
    if (!scheme) continue;
    const auto found = allowance(*scheme, draft.nutrient, draft.limits.min, primary);
    if (!found) continue;
    add_note(
        NoteLevel::caution, NoteCode::label_tolerance, {draft.nutrient},
        draft.nutrient + " may fall " + rounded_text(found->below) +
            (found->below == 1 ? " point" : " points") + " short of the " +
            number_text(draft.limits.min) + " % asked, the label tolerance " +
            in_quotes(draft.tolerance) + " (" + found->source +
            "): a margin for planning, never a licence to fill less; what the law asks at least "
            "is not excused by it");
  }
  const bool any =
      std::any_of(scenario_.materials_.begin(), scenario_.materials_.end(),
                  [](const Material& material) { return !material.spread_percent.empty(); });
  const auto sure = [](const Target& target) { return !target.margin_percent.empty(); };
  if (any && (std::any_of(scenario_.rates_.begin(), scenario_.rates_.end(), sure) ||
              std::any_of(scenario_.grades_.begin(), scenario_.grades_.end(), sure)))
    add_note(NoteLevel::info, NoteCode::confidence_margins, {},
             "limits with a confidence count each content less (a minimum) or more (a maximum) its "
             "spread times the normal quantile: on the safe side whatever goes together, as though "
             "all analyses were off at once");
}

}  // namespace leastwise
