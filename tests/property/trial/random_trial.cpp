#include "random_trial.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "support/generator.hpp"
#include "support/random.hpp"

namespace leastwise::trial_test {
namespace {

using support::Random;

double one_of(Random& random, std::span<const double> values) { return random.one_of(values); }

TreatmentDraft random_treatment(Random& random, int position) {
  TreatmentDraft treatment;
  treatment.name = "treatment " + std::to_string(position);
  if (random.chance(0.1)) return treatment;
  support::ScenarioKind kind;
  kind.materials = random.whole(6, 12);
  kind.frills = random.chance(0.5);
  const auto is_dangerous = [](const LiftedRule& rule) { return rule.dangerous; };
  do {
    auto draft = support::random_draft(random.bits(), kind);
    // A recipe here is drawn without regard to what is usual.
    draft.confirm_high_rate = {"B", "Cu", "Zn", "Mn", "Fe", "Mo", "Se", "Co", "Ni"};
    treatment.scenario = Scenario(draft);
  } while (std::ranges::any_of(treatment.scenario->lifted_rules(), is_dangerous));
  if (treatment.scenario->basis() == Basis::per_tonne) {
    treatment.product_kg_per_ha = random.between(40, 800);
  }
  if (random.chance(0.3) && treatment.scenario->exclusions().empty()) {
    for (const auto& material : treatment.scenario->materials()) {
      if (!material.can_enter() || random.chance(0.4)) continue;
      const bool powder = material.form_used() == Form::powder;
      treatment.recipe_kg_per_ha.push_back(
          {material.name, powder ? random.between(0.05, 3) : random.between(5, 200)});
    }
    bool any_granule = false;
    for (const auto& portion : treatment.recipe_kg_per_ha) {
      const auto i = treatment.scenario->index_of(portion.material);
      any_granule = any_granule || treatment.scenario->materials()[*i].form == Form::granule;
    }
    if (!any_granule) treatment.recipe_kg_per_ha.clear();
    if (!treatment.recipe_kg_per_ha.empty()) treatment.product_kg_per_ha.reset();
  }
  return treatment;
}

SiteDraft random_site(Random& random, int position) {
  SiteDraft site;
  site.name = "site " + std::to_string(position);
  site.replicates = random.whole(1, 6);
  site.plots_per_treatment = random.whole(1, 3);
  if (random.chance(0.5)) {
    site.plot_area_m2 = random.between(1, random.chance(0.2) ? 20000 : 80);
  } else {
    site.plot_length_m = random.between(1, 15);
    site.plot_width_m = random.between(0.8, 4);
  }
  return site;
}

void add_equipment(Random& random, TrialDraft& draft) {
  constexpr std::array<double, 7> digits{0.01, 0.05, 0.1, 1, 2, 10, 50};
  const int balances = random.whole(1, 3);
  for (int i = 0; i < balances; ++i) {
    const double digit = one_of(random, digits);
    draft.balances.push_back({"balance " + std::to_string(i),
                              digit * static_cast<double>(random.whole(1000, 40000)) / 1000,
                              digit});
  }
  const int mixers = random.whole(1, 3);
  for (int i = 0; i < mixers; ++i) {
    Mixer mixer;
    mixer.name = "mixer " + std::to_string(i);
    mixer.kind = random.chance(0.4) ? MixerKind::bucket : MixerKind::drum;
    if (random.chance(0.6)) mixer.capacity_kg = random.between(4, 150);
    if (!mixer.capacity_kg || random.chance(0.2)) mixer.capacity_litres = random.between(5, 200);
    draft.mixers.push_back(std::move(mixer));
  }
  for (int i = random.whole(0, 2); i > 0; --i) {
    Container container;
    container.name = "container " + std::to_string(i);
    container.capacity_kg = random.between(0.5, 30);
    draft.containers.push_back(std::move(container));
  }
  if (random.chance(0.7)) draft.bags.push_back({"default", random.between(1, 50)});
}

MaterialDraft stated(std::string name, Form form, const char* nutrient, double percent) {
  MaterialDraft material;
  material.name = std::move(name);
  material.family = "plain";
  material.form = form;
  material.contains_percent = {{nutrient, percent}};
  material.price_per_t = 300;
  return material;
}

/// A granule with a powder to be coated on, and one or two of which plots of a few square metres
/// take too little to be weighed.
TreatmentDraft with_little(Random& random, int position) {
  ScenarioDraft draft;
  draft.materials = {stated("base", Form::granule, "N", 20), stated("zinc", Form::powder, "Zn", 60),
                     stated("moly", Form::powder, "Mo", 40),
                     stated("boron", Form::powder, "B", 15)};
  draft.confirm_high_rate = {"Zn", "Mo", "B"};
  Limits wide;
  wide.max = 10;
  draft.coating_percent = wide;
  draft.binder = BinderDraft{"water", 37.5, 0, {}};
  Limits anything;
  anything.max = 100;
  draft.grade_percent = {{"N", anything}};
  TreatmentDraft treatment;
  treatment.name = "little " + std::to_string(position);
  treatment.recipe_kg_per_ha = {{"base", random.between(100, 400)},
                                {"zinc", random.between(0.5, 4)},
                                {"moly", random.between(0.01, 0.2)}};
  if (random.chance(0.5)) treatment.recipe_kg_per_ha.push_back({"boron", random.between(0.1, 1)});
  if (random.chance(0.3)) {  // solved: exactly so much
    draft.grade_percent.clear();
    draft.coating_percent->max = random.between(0.3, 4);  // too little for some mixes
    const double n = random.between(20, 80);
    const double mo = random.between(0.005, 0.08);
    draft.rates_kg_per_ha = {{"N", {n, n}}, {"Zn", {1, 1}}, {"Mo", {mo, mo}}};
    treatment.recipe_kg_per_ha.clear();
  }
  treatment.scenario = Scenario(draft);
  return treatment;
}

/// Small plots, powders that are too little for the balances, in three trials of five.
void add_little(Random& random, TrialDraft& draft) {
  if (!random.chance(0.6)) return;
  for (auto& site : draft.sites) {
    site.plot_length_m.reset();
    site.plot_width_m.reset();
    site.plot_area_m2 = random.between(1, 10);
  }
  draft.balances.push_back({"pocket", 0.5, random.chance(0.5) ? 0.01 : 0.02});
  draft.balances.push_back({"bench", 6, 0.1});
  for (int i = random.whole(1, 3); i > 0; --i) draft.treatments.push_back(with_little(random, i));
  if (random.chance(0.7)) draft.solutions.solubility_g_per_l = {{"moly", 400}, {"boron", 40}};
}

/// Two applications, and treatments that are spread over them.
void add_applications(Random& random, TrialDraft& draft) {
  if (!random.chance(0.3)) return;
  draft.applications = {{"first", "", ""}, {"second", "", ""}};
  for (auto& treatment : draft.treatments) {
    if (!treatment.scenario || random.chance(0.4)) continue;
    const double first = random.chance(0.2) ? 0 : random.whole(1, 9) * 10;
    treatment.split_percent = {{"product", {{"first", first}, {"second", 100 - first}}}};
  }
}

}  // namespace

TrialDraft random_trial(std::uint64_t seed) {
  Random random(seed);
  TrialDraft draft;
  draft.title = "random trial " + std::to_string(seed);
  if (random.chance(0.5)) draft.code = "RT";
  if (random.chance(0.7)) draft.seed = random.bits();
  draft.spare_percent = random.chance(0.2) ? 0 : random.between(0, 40);
  const int treatments = random.whole(1, 7);
  for (int i = 0; i < treatments; ++i) draft.treatments.push_back(random_treatment(random, i));
  const int sites = random.whole(1, 4);
  for (int i = 0; i < sites; ++i) draft.sites.push_back(random_site(random, i));
  add_equipment(random, draft);
  add_little(random, draft);
  add_applications(random, draft);
  return draft;
}

}  // namespace leastwise::trial_test
