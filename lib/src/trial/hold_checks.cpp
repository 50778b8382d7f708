#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <set>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {
namespace {

constexpr std::string_view hold_path = "hold";

/// Whether a material of `treatment` has any of `nutrient`.
bool has(const Treatment& treatment, std::string_view nutrient) {
  return std::ranges::any_of(treatment.scenario->materials(), [&](const Material& material) {
    return content_percent(material, nutrient) > 0;
  });
}

bool is_solved(const Treatment& treatment) {
  return treatment.kind == TreatmentKind::blend && treatment.scenario.has_value();
}

}  // namespace

void TrialBuilder::resolve_hold() {
  if (!draft_.hold || diagnostics_.touched(hold_path)) return;
  trial_.hold_ = draft_.hold;
  const Hold& hold = *draft_.hold;
  if (!hold.all && !hold.product && hold.nutrients.empty()) {
    diagnostics_.error(codes::missing_key, std::string(hold_path),
                       "hold must name nutrients, such as [N, P2O5, K2O, S], or be all, found "
                       "nothing to hold");
    return;
  }
  std::set<std::string> seen;
  for (std::size_t i = 0; i < hold.nutrients.size(); ++i) {
    const std::string path = below(hold_path, std::to_string(i));
    if (!seen.insert(hold.nutrients[i]).second) {
      diagnostics_.error(
          codes::duplicate_name, path,
          "a nutrient must be held once, found " + in_quotes(hold.nutrients[i]) + " again");
      continue;
    }
    check_held(hold.nutrients[i], path);
  }
  check_currency_of_hold();
}

void TrialBuilder::check_held(const std::string& nutrient, const std::string& path) {
  const bool known = std::ranges::any_of(trial_.treatments_, [&](const Treatment& treatment) {
    return is_solved(treatment) && has(treatment, nutrient);
  });
  if (known || diagnostics_.touched("treatments") || diagnostics_.touched("factorial")) return;
  if (std::ranges::find(known_names(), nutrient) != known_names().end() &&
      std::ranges::none_of(trial_.treatments_, is_solved))
    return;  // nothing is solved, so nothing is held
  Suggestion suggestion(nutrient);
  for (const auto name : known_names()) suggestion.offer(name);
  diagnostics_.error(
      codes::unknown_nutrient, path,
      "hold must name a nutrient that a material of the treatments contains, found " +
          in_quotes(nutrient) + suggestion.question());
}

/// One search holds all blends, and it adds their costs up.
void TrialBuilder::check_currency_of_hold() {
  const Treatment* first = nullptr;
  for (const auto& treatment : trial_.treatments_) {
    if (!is_solved(treatment)) continue;
    if (first == nullptr) first = &treatment;
    if (treatment.scenario->currency() == first->scenario->currency()) continue;
    diagnostics_.error(codes::bad_hold, std::string(hold_path),
                       "treatments that are held equal must state one currency, found " +
                           in_quotes(first->scenario->currency()) + " and " +
                           in_quotes(treatment.scenario->currency()));
    return;
  }
}

void TrialBuilder::resolve_carrier() {
  trial_.carrier_ = draft_.carrier;
  if (draft_.carrier.empty() || diagnostics_.touched("carrier")) return;
  for (const auto& treatment : trial_.treatments_) {
    if (!treatment.scenario) continue;
    const auto i = treatment.scenario->index_of(draft_.carrier);
    if (!i && treatment.kind == TreatmentKind::recipe) continue;
    if (i && treatment.scenario->materials()[*i].form_used() == Form::powder) continue;
    diagnostics_.error(
        codes::unknown_material, "carrier",
        "the carrier must be a powder among the materials of every treatment, found " +
            in_quotes(draft_.carrier) + (i ? ", which is a granule" : ", which is none") +
            " in treatment " + in_quotes(treatment.name));
    return;
  }
}

}  // namespace leastwise
