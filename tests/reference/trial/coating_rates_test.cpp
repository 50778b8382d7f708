// Common practice, against which the sheets are held: coated rates of 0.2 to 0.4 kg of B or Cu and
// 0.5 to 1.5 kg of Zn, Mn or Fe per hectare; granular sources need 2 to 4 times as much; 350 to
// 400 g of binder for 1000 g of powder; granules of 2 to 4 mm.
#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

using namespace leastwise;

namespace {

struct Case {
  std::string nutrient;
  std::string powder;
  double rate_kg_per_ha;
  double percent;  ///< of the nutrient in the powder, by its formula or label
};

// Contents: atomic weights (IUPAC) times the purity that the catalogue states.
const std::vector<Case> cases{
    {"B", "boric-acid", 0.2, 99 * 10.81 / 61.831},
    {"B", "boric-acid", 0.4, 99 * 10.81 / 61.831},
    {"Cu", "copper-oxide", 0.2, 75},
    {"Cu", "copper-oxide", 0.4, 75},
    {"Zn", "zinc-oxide", 0.5, 97 * 65.38 / 81.379},
    {"Zn", "zinc-oxide", 1.5, 97 * 65.38 / 81.379},
    {"Mn", "manganese-oxide", 0.5, 62},
    {"Mn", "manganese-oxide", 1.5, 62},
    {"Fe", "iron-sulfate", 0.5, 91 * 55.845 / 169.92},
    {"Fe", "iron-sulfate", 1.5, 91 * 55.845 / 169.92},
};

MaterialDraft priced(std::string name, double price) {
  MaterialDraft material;
  material.name = std::move(name);
  material.price_per_t = price;
  return material;
}

ScenarioDraft scenario_for(const std::string& nutrient, double rate, const std::string& source,
                           double binder_percent) {
  ScenarioDraft draft;
  draft.materials = {priced("urea", 450), priced("map", 690), priced(source, 2000)};
  draft.rates_kg_per_ha = {{"N", {60, 60}}, {"P2O5", {40, 40}}, {nutrient, {}}};
  draft.rates_kg_per_ha.back().limits.min = rate;
  draft.binder = BinderDraft{"canola-oil", binder_percent, 1000, {}};
  Limits most;
  most.max = 5;
  draft.coating_percent = most;
  return draft;
}

/// One treatment on four plots of 25 m2, weighed to 0.01 g.
TreatmentPlan sheet_of(const ScenarioDraft& scenario) {
  TrialDraft draft;
  TreatmentDraft treatment;
  treatment.name = "coated";
  treatment.scenario = Scenario(scenario);
  draft.treatments = {treatment};
  SiteDraft site;
  site.name = "site";
  site.replicates = 4;
  site.plot_area_m2 = 25;
  draft.sites = {site};
  draft.spare_percent = 0;
  draft.mixers = {{"bucket", MixerKind::bucket, 10, {}}};
  draft.balances = {{"fine", 10, 0.01}};
  return plan_trial(Trial(draft)).treatments.front();
}

double grams_of(const TreatmentPlan& plan, std::string_view material) {
  for (const auto& weighing : plan.weighings) {
    if (weighing.material == material) return static_cast<double>(weighing.mass_mg) / 1000;
  }
  return 0;
}

}  // namespace

TEST_CASE("the sheet weighs the powder that the usual coated rates call for") {
  for (const auto& c : cases) {
    CAPTURE(c.nutrient);
    CAPTURE(c.rate_kg_per_ha);
    const TreatmentPlan plan = sheet_of(scenario_for(c.nutrient, c.rate_kg_per_ha, c.powder, 37.5));
    REQUIRE(plan.state == TreatmentState::planned);
    // 100 m2 are a hundredth of a hectare.
    const double powder_g = c.rate_kg_per_ha * 1000 / (c.percent / 100) / 100;
    CHECK(grams_of(plan, c.powder) == doctest::Approx(powder_g).epsilon(0.002));
    CHECK(plan.mixer == "bucket");
  }
}

TEST_CASE("350 to 400 g of binder stand on the sheet for 1000 g of powder") {
  for (const double percent : {35.0, 37.5, 40.0}) {
    const TreatmentPlan plan = sheet_of(scenario_for("Zn", 1.0, "zinc-oxide", percent));
    REQUIRE(plan.coating);
    CHECK(plan.coating->binder_g_per_kg_powder == doctest::Approx(percent * 10).epsilon(0.002));
    CHECK(plan.coating->binder_g_per_kg_powder > 349);
    CHECK(plan.coating->binder_g_per_kg_powder < 401);
    CHECK(plan.coating->binder_ml ==
          doctest::Approx(static_cast<double>(plan.coating->binder_mg) / 1000 / 0.915));
  }
}

TEST_CASE("a granular source needs 2 to 4 times the coated rate") {
  const double coated = [] {
    const TreatmentPlan plan = sheet_of(scenario_for("Zn", 1.0, "zinc-oxide", 37.5));
    for (const auto& check : plan.nutrients) {
      if (check.nutrient == "Zn") return check.achieved_kg_per_ha;
    }
    return 0.0;
  }();
  for (const double factor : {2.0, 3.0, 4.0}) {
    ScenarioDraft draft = scenario_for("Zn", 1.0, "zinc-granule", 37.5);
    draft.granular_micronutrient_factor = factor;
    const TreatmentPlan plan = sheet_of(draft);
    for (const auto& check : plan.nutrients) {
      if (check.nutrient != "Zn") continue;
      CHECK(check.achieved_kg_per_ha / coated == doctest::Approx(factor).epsilon(0.002));
    }
  }
}

TEST_CASE("granules of 2 to 4 mm that match pass without a stop") {
  const TreatmentPlan plan = sheet_of(scenario_for("Zn", 1.0, "zinc-oxide", 37.5));
  for (const auto& note : plan.stop_conditions) CHECK(note.level != NoteLevel::warning);
}
