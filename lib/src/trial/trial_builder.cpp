#include "trial/trial_builder.hpp"

#include <leastwise/micronutrient.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/dates.hpp"
#include "base/text/wording.hpp"
#include "scenario/family_checks.hpp"
#include "scenario/supply_notes.hpp"

namespace leastwise {
namespace {

constexpr Range product_range{0, 1e5, true, "kg per hectare"};
constexpr std::size_t longest_code = 20;

ScenarioDraft text_of(const TrialDraft& draft) {
  ScenarioDraft text;
  text.places = draft.places;
  text.source_lines = draft.source_lines;
  return text;
}

bool may_stand_in_a_code(char c) {
  return (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '-' ||
         c == '_' || c == '.';
}

std::string path_of(const TreatmentDraft& draft) {
  return draft.path.empty() ? below("treatments", draft.name) : draft.path;
}

/// Codes that differ in case only are read as one by people.
std::string folded(std::string code) {
  for (char& c : code) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return code;
}

}  // namespace

TrialBuilder::TrialBuilder(TrialDraft draft, Reading reading)
    : draft_(std::move(draft)),
      text_(text_of(draft_)),
      diagnostics_(text_, std::move(reading)),
      checks_(text_, diagnostics_) {}

Trial TrialBuilder::build() && {
  trial_.title_ = draft_.title;
  trial_.code_ = draft_.code;
  trial_.currency_ = draft_.currency;
  trial_.seed_ = draft_.seed;
  check_day();
  resolve_applications();
  resolve_treatments();
  check_splits();
  resolve_sites();
  check_repeats();
  check_number_of_plots();
  resolve_fields();
  check_codes();
  resolve_equipment();
  resolve_hold();
  resolve_carrier();
  resolve_solutions();
  check_labels();
  check_spreader();
  if (diagnostics_.empty()) split_treatments();
  if (!diagnostics_.empty()) throw InputError(diagnostics_.take());
  return std::move(trial_);
}

void TrialBuilder::check_twice(std::map<std::string, std::string>& seen, const std::string& name,
                               const std::string& path, std::string_view code,
                               std::string_view what) {
  const auto [first, is_new] = seen.emplace(name, path);
  if (is_new) return;
  diagnostics_.error(
      code, path, std::string(what) + " must be given once, found " + in_quotes(name) + " again");
  diagnostics_.also(first->second, "first given here");
}

void TrialBuilder::check_day() {
  trial_.mixed_on_ = draft_.mixed_on;
  if (draft_.mixed_on.empty() || day_of(draft_.mixed_on)) return;
  diagnostics_.error(
      codes::bad_date, "mixed_on",
      "the day of mixing must be a date such as 2026-04-03, found " + in_quotes(draft_.mixed_on));
}

void TrialBuilder::resolve_treatments() {
  if (draft_.treatments.empty()) {
    if (!diagnostics_.touched("treatments") && !diagnostics_.touched("factorial")) {
      diagnostics_.error(codes::missing_key, "treatments",
                         "a trial must have treatments, found none; add treatments or factorial");
    }
    return;
  }
  std::map<std::string, std::string> seen;
  for (std::size_t i = 0; i < draft_.treatments.size(); ++i) {
    const TreatmentDraft& draft = draft_.treatments[i];
    const std::string path = path_of(draft);
    if (checks_.name(path, "the name of a treatment", draft.name)) {
      check_twice(seen, draft.name, path, codes::duplicate_name, "a treatment");
    }
    resolve(draft, i);
  }
}

void TrialBuilder::resolve(const TreatmentDraft& draft, std::size_t position) {
  const std::string path = path_of(draft);
  Treatment treatment;
  treatment.name = draft.name;
  treatment.code = draft.code.empty() ? "T" + std::to_string(position + 1) : draft.code;
  treatment.scenario = draft.scenario;
  treatment.recipe_kg_per_ha = draft.recipe_kg_per_ha;
  treatment.product_kg_per_ha = draft.product_kg_per_ha;
  treatment.repeat = draft.repeat;
  treatment.replicates = draft.replicates;
  treatment.whole_plot = draft.whole_plot;
  if (!draft.recipe_kg_per_ha.empty()) {
    treatment.kind = TreatmentKind::recipe;
    check_recipe(draft, path);
  } else if (draft.scenario) {
    treatment.kind = TreatmentKind::blend;
  }
  check_product_rate(draft, path);
  if (treatment.kind == TreatmentKind::blend) choose_sources(draft, path, treatment);
  if (treatment.kind == TreatmentKind::blend) hold_to_ceilings(draft, path, treatment);
  check_lifted_rules(draft, path);
  if (trial_.currency_.empty() && draft.scenario) trial_.currency_ = draft.scenario->currency();
  trial_.treatments_.push_back(std::move(treatment));
}

void TrialBuilder::check_product_rate(const TreatmentDraft& draft, const std::string& path) {
  const std::string place = below(path, "product_kg_per_ha");
  if (diagnostics_.touched(path)) return;
  if (draft.product_kg_per_ha) {
    checks_.number(place, "the rate of the product", *draft.product_kg_per_ha, product_range);
    if (!draft.recipe_kg_per_ha.empty()) {
      diagnostics_.error(codes::treatment_kind, place,
                         "a recipe sets its own rate, found product_kg_per_ha beside it; take the "
                         "line out");
    } else if (draft.scenario && draft.scenario->basis() == Basis::per_hectare) {
      diagnostics_.error(codes::treatment_kind, place,
                         "a scenario with rates_kg_per_ha sets its own rate, found "
                         "product_kg_per_ha beside it; take the line out");
    }
    return;
  }
  if (draft.scenario && draft.recipe_kg_per_ha.empty() &&
      draft.scenario->basis() == Basis::per_tonne) {
    diagnostics_.error(codes::treatment_kind, path,
                       "treatment " + in_quotes(draft.name) +
                           " has a scenario without rates_kg_per_ha and must say how much of the "
                           "product is spread, found nothing; add product_kg_per_ha");
  }
}

/// Ceilings of micronutrients are rates: with a product by the tonne they hold at the rate at which
/// the treatment spreads it.
void TrialBuilder::hold_to_ceilings(const TreatmentDraft& draft, const std::string& path,
                                    Treatment& treatment) {
  if (!draft.product_kg_per_ha || treatment.scenario->basis() != Basis::per_tonne ||
      !(*draft.product_kg_per_ha > 0) ||
      treatment.scenario->product_kg_per_ha() == draft.product_kg_per_ha) {
    return;
  }
  ScenarioDraft spread = treatment.scenario->draft();
  spread.product_kg_per_ha = draft.product_kg_per_ha;
  try {
    treatment.scenario = Scenario(spread);
  } catch (const InputError& error) {
    for (const auto& diagnostic : error.diagnostics()) {
      diagnostics_.error(diagnostic.code, below(path, "product_kg_per_ha"),
                         "treatment " + in_quotes(draft.name) + ": " + diagnostic.message);
    }
  }
}

void TrialBuilder::check_recipe(const TreatmentDraft& draft, const std::string& path) {
  const std::string list = below(path, "recipe_kg_per_ha");
  if (!draft.scenario) {
    diagnostics_.error(codes::treatment_kind, list,
                       "a recipe must have a scenario that describes its materials, found none");
    return;
  }
  std::map<std::string, std::string> seen;
  bool any_granule = false;
  bool all_known = true;
  double total = 0;
  for (const auto& portion : draft.recipe_kg_per_ha) {
    const std::string place = below(list, portion.material);
    check_twice(seen, portion.material, place, codes::duplicate_name, "a material of a recipe");
    checks_.number(place, "the rate of a material", portion.kg_per_ha, product_range);
    total += portion.kg_per_ha;
    const auto index = draft.scenario->index_of(portion.material);
    if (!index) {
      all_known = false;
      Suggestion suggestion(portion.material);
      for (const auto& material : draft.scenario->materials()) suggestion.offer(material.name);
      diagnostics_.error(codes::unknown_material, place,
                         "a recipe must name materials of its scenario, found " +
                             in_quotes(portion.material) + suggestion.question());
      continue;
    }
    const Material& material = draft.scenario->materials()[*index];
    any_granule = any_granule || material.form == Form::granule;
    if (!material.can_enter()) {
      diagnostics_.error(codes::treatment_kind, place,
                         in_quotes(material.name) + " comes as " +
                             std::string(to_string(material.form)) +
                             ", which neither sticks nor stays mixed; say ground: true of the "
                             "material if it will be ground to a powder first");
    }
  }
  if (all_known && !any_granule) {
    diagnostics_.error(codes::powders_alone, list,
                       "a recipe must have a granule for its powders to coat, found powders alone");
  }
  if (total > product_range.max) {
    checks_.number(list, "the rate of a recipe as a whole", total, product_range);
  }
  if (!all_known) return;
  check_recipe_is_compatible(draft, list);
  check_recipe_is_no_poison(draft, list);
}

void TrialBuilder::check_recipe_is_no_poison(const TreatmentDraft& draft, const std::string& path) {
  std::vector<double> kg(draft.scenario->materials().size(), 0);
  for (const auto& portion : draft.recipe_kg_per_ha)
    kg[*draft.scenario->index_of(portion.material)] += portion.kg_per_ha;
  for (const auto& micronutrient : micronutrients()) {
    const double amount = amount_of(*draft.scenario, kg, micronutrient.element);
    if (amount > micronutrient.ceiling_kg_per_ha &&
        !confirms_high_rate(draft.scenario->draft(), micronutrient.element))
      diagnostics_.error(
          codes::high_rate, path,
          "a recipe must keep below the ceilings: " + high_rate_text(micronutrient, amount));
  }
}

void TrialBuilder::check_recipe_is_compatible(const TreatmentDraft& draft,
                                              const std::string& path) {
  constexpr bool in_trial = true;
  std::set<std::string> families;
  for (const auto& portion : draft.recipe_kg_per_ha) {
    const auto index = draft.scenario->index_of(portion.material);
    families.insert(draft.scenario->materials()[*index].family);
  }
  for (const auto& pair : draft.scenario->exclusions()) {
    if (!families.contains(pair.family_a) || !families.contains(pair.family_b)) continue;
    diagnostics_.error(codes::incompatible_recipe, path,
                       "a recipe must not bring together " + in_quotes(pair.family_a) + " and " +
                           in_quotes(pair.family_b) +
                           ", found both: " + with_way_to_lift(pair, in_trial));
  }
}

/// Who stands over the mixer did not lift the rule: what burns, explodes or gives off gas is not
/// mixed for a trial, whatever the scenario says.
void TrialBuilder::check_lifted_rules(const TreatmentDraft& draft, const std::string& path) {
  if (!draft.scenario) return;
  for (const auto& rule : draft.scenario->lifted_rules()) {
    if (!rule.dangerous) continue;
    diagnostics_.error(codes::lifted_in_trial, path,
                       "no sheet is written for " + in_quotes(draft.name) +
                           ": its scenario lifts the "
                           "rule that keeps " +
                           in_quotes(rule.family_a) + " and " + in_quotes(rule.family_b) +
                           " apart, which no trial may do: " + rule.reason +
                           "; take the pair out of compatibility");
  }
}

bool TrialBuilder::check_whole(int value, int most, const std::string& path,
                               std::string_view what) {
  return checks_.number(path, what, value, Range{1, static_cast<double>(most), false, ""});
}

void TrialBuilder::check_code(const std::string& code, const std::string& path) {
  if (code.size() <= longest_code && std::all_of(code.begin(), code.end(), may_stand_in_a_code)) {
    return;
  }
  diagnostics_.error(
      codes::bad_name, path,
      "a label code must be at most 20 letters, digits, '-', '_' or '.', found " + in_quotes(code));
}

void TrialBuilder::check_codes() {
  const auto place = [&](const std::string& owner, bool stated) {
    return stated ? below(owner, "code") : owner;
  };
  check_code(trial_.code_, "code");
  std::map<std::string, std::string> treatments;
  for (std::size_t i = 0; i < trial_.treatments_.size(); ++i) {
    const auto& draft = draft_.treatments[i];
    const std::string path = place(path_of(draft), !draft.code.empty());
    check_code(trial_.treatments_[i].code, path);
    check_twice(treatments, folded(trial_.treatments_[i].code), path, codes::duplicate_label,
                "the label code of a treatment");
  }
  std::map<std::string, std::string> sites;
  for (std::size_t i = 0; i < trial_.sites_.size(); ++i) {
    const auto& draft = draft_.sites[i];
    const std::string path = place(below("sites", draft.name), !draft.code.empty());
    check_code(trial_.sites_[i].code, path);
    check_twice(sites, folded(trial_.sites_[i].code), path, codes::duplicate_label,
                "the label code of a site");
  }
}

}  // namespace leastwise
