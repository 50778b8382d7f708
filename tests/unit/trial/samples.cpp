#include "samples.hpp"

namespace leastwise::trial_test {
namespace {

MaterialDraft priced(std::string name, double price) {
  MaterialDraft material;
  material.name = std::move(name);
  material.price_per_t = price;
  return material;
}

Limits at_least(double min) {
  Limits limits;
  limits.min = min;
  return limits;
}

}  // namespace

ScenarioDraft starter() {
  ScenarioDraft draft;
  draft.title = "Starter";
  draft.currency = "USD";
  for (const auto& [name, price] : std::vector<std::pair<std::string, double>>{
           {"urea", 450}, {"map", 690}, {"mop", 400}, {"zinc-oxide", 3200}, {"boric-acid", 1300}}) {
    draft.materials.push_back(priced(name, price));
  }
  draft.rates_kg_per_ha = {{"N", at_least(45)},
                           {"P2O5", at_least(40)},
                           {"K2O", at_least(24)},
                           {"Zn", at_least(1.0)},
                           {"B", at_least(0.3)}};
  draft.binder = BinderDraft{"canola-oil", 37.5, 1250, {}};
  return draft;
}

TreatmentDraft solved(std::string name, const ScenarioDraft& scenario) {
  TreatmentDraft treatment;
  treatment.name = std::move(name);
  treatment.scenario = Scenario(scenario);
  return treatment;
}

TreatmentDraft recipe(double base_kg_per_ha, double powder_kg_per_ha) {
  ScenarioDraft draft;
  MaterialDraft base = priced("base", 300);
  base.form = Form::granule;
  base.contains_percent = {{"N", 10}};
  MaterialDraft powder = priced("powder", 3000);
  powder.form = Form::powder;
  powder.contains_percent = {{"Zn", 50}};
  draft.materials = {base, powder};
  Limits anything;
  anything.max = 100;
  draft.grade_percent = {{"N", anything}};
  draft.binder = BinderDraft{"water", 37.5, 0, {}};
  TreatmentDraft treatment;
  treatment.name = "recipe";
  treatment.scenario = Scenario(draft);
  treatment.recipe_kg_per_ha = {{"base", base_kg_per_ha}};
  if (powder_kg_per_ha > 0) treatment.recipe_kg_per_ha.push_back({"powder", powder_kg_per_ha});
  return treatment;
}

TrialDraft small_trial(std::vector<TreatmentDraft> treatments) {
  TrialDraft draft;
  draft.title = "Small trial";
  draft.code = "ST";
  draft.treatments = std::move(treatments);
  SiteDraft site;
  site.name = "Hill";
  site.code = "H";
  site.replicates = 4;
  site.plot_area_m2 = 20;
  draft.sites = {site};
  draft.spare_percent = 0;
  draft.mixers = {{"bucket", MixerKind::bucket, 10, {}}, {"drum", MixerKind::drum, 60, {}}};
  draft.balances = {{"fine", 0.5, 0.01}, {"bench", 6, 0.1}, {"platform", 60, 5}};
  return draft;
}

}  // namespace leastwise::trial_test
