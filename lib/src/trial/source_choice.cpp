#include <leastwise/compare.hpp>

#include <string>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "trial/product.hpp"
#include "trial/trial_builder.hpp"

namespace leastwise {
namespace {

/// A material with so much of a nutrient is a source of it, as in comparisons of sources.
constexpr double source_percent = 1;

}  // namespace

std::string_view to_string(SourceForm form) {
  return form == SourceForm::coated ? "coated" : "granular";
}

/// Leaves out what `without`, `only_source_of` and `form_of` rule out. What is left out stays in
/// the scenario at nothing, so that an order that needs it is a conflict that names it.
void TrialBuilder::choose_sources(const TreatmentDraft& draft, const std::string& path,
                                  Treatment& treatment) {
  const auto apply = [&](VariantDraft variant, const std::string& place) {
    variant.name = "sources";
    try {
      ScenarioDraft chosen = varied(*treatment.scenario, variant).draft();
      chosen.title = treatment.scenario->title();
      treatment.scenario = Scenario(chosen);
    } catch (const InputError& error) {
      for (const auto& diagnostic : error.diagnostics())
        diagnostics_.error(diagnostic.code, place,
                           "treatment " + in_quotes(draft.name) + ": " + diagnostic.message);
    }
  };
  for (std::size_t i = 0; i < draft.without.size(); ++i) {
    VariantDraft variant;
    variant.without = {draft.without[i]};
    apply(std::move(variant), below(below(path, "without"), std::to_string(i)));
  }
  for (const auto& source : draft.only_source_of) {
    VariantDraft variant;
    variant.only_source_of = {source};
    apply(std::move(variant), below(below(path, "only_source_of"), source.first));
  }
  for (const auto& [nutrient, form] : draft.form_of) {
    const std::string place = below(below(path, "form_of"), nutrient);
    VariantDraft variant;
    if (rule_out_other_form(*treatment.scenario, nutrient, form, variant)) {
      apply(std::move(variant), place);
      continue;
    }
    diagnostics_.error(codes::unknown_nutrient, place,
                       "treatment " + in_quotes(draft.name) + " must have a " +
                           (form == SourceForm::coated ? "powder" : "granule") +
                           " with at least 1 % of " + in_quotes(nutrient) +
                           " among its materials, found none");
  }
}

/// Returns: false where no material of that form is a source.
bool TrialBuilder::rule_out_other_form(const Scenario& scenario, const std::string& nutrient,
                                       SourceForm form, VariantDraft& variant) {
  bool any = false;
  for (const auto& material : scenario.materials()) {
    if (!material.can_enter() || content_percent(material, nutrient) < source_percent) continue;
    const bool powder = trial::role_of(material) == Role::powder;
    if (powder == (form == SourceForm::coated)) {
      any = true;
    } else {
      variant.without.push_back(material.name);
    }
  }
  return any;
}

}  // namespace leastwise
