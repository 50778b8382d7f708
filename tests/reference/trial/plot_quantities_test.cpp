// Published worked examples of fertilizer per area, from tests/reference/data: what the sheet of a
// trial with one such plot makes of them.
#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <map>
#include <string>

#include "support/csv.hpp"

using namespace leastwise;

namespace {

double number(const std::string& text) { return text.empty() ? 0 : std::stod(text); }

/// The materials of a worked example.
std::vector<MaterialDraft> materials_of(const std::string& id) {
  std::vector<MaterialDraft> materials;
  for (const auto& line : support::read_reference("worked_example_ingredients.csv")) {
    if (line.at("id") != id) continue;
    MaterialDraft material;
    material.name = line.at("ingredient");
    material.family = "of the example";
    material.form = Form::granule;
    material.price_per_t = 100;
    material.contains_percent = {{"N", number(line.at("N_pct"))},
                                 {"P2O5", number(line.at("P2O5_pct"))},
                                 {"K2O", number(line.at("K2O_pct"))}};
    materials.push_back(std::move(material));
  }
  return materials;
}

/// One plot of that area, weighed to the gram, without spare.
TreatmentPlan plot_of(const std::string& id, std::vector<TargetDraft> rates, double area_m2) {
  ScenarioDraft scenario;
  scenario.materials = materials_of(id);
  REQUIRE(!scenario.materials.empty());
  scenario.rates_kg_per_ha = std::move(rates);
  TrialDraft draft;
  TreatmentDraft treatment;
  treatment.name = id;
  treatment.scenario = Scenario(scenario);
  draft.treatments = {treatment};
  SiteDraft site;
  site.name = "plot";
  site.plot_area_m2 = area_m2;
  draft.sites = {site};
  draft.spare_percent = 0;
  draft.mixers = {{"heap", MixerKind::drum, 2000, {}}};
  draft.balances = {{"scale", 1000, 1}};
  return plan_trial(Trial(draft)).treatments.front();
}

double kg_of(const TreatmentPlan& plan, const std::string& material) {
  for (const auto& weighing : plan.weighings) {
    if (weighing.material == material) return static_cast<double>(weighing.mass_mg) / 1e6;
  }
  return 0;
}

}  // namespace

TEST_CASE("a hectare at 120:60:40 takes 260.4, 375 and 66.67 kg") {
  // Indian agronomy course; it rounds the urea factor, hence 260.4 for 260.87.
  const TreatmentPlan plan =
      plot_of("W09", {{"N", {120, 120}}, {"P2O5", {60, 60}}, {"K2O", {40, 40}}}, 10000);
  REQUIRE(plan.state == TreatmentState::planned);
  CHECK(kg_of(plan, "urea") == doctest::Approx(260.4).epsilon(0.002));
  CHECK(kg_of(plan, "urea") == doctest::Approx(260.8696).epsilon(1e-5));
  CHECK(kg_of(plan, "SSP") == doctest::Approx(375).epsilon(1e-5));
  CHECK(kg_of(plan, "MOP") == doctest::Approx(66.67).epsilon(1e-4));
}

TEST_CASE("100-70-40 kg/ha from urea, superphosphate and muriate, on plots of 20 m2") {
  // Philippine technical-vocational module: urea 217.39 kg/ha; the rest computed from its inputs.
  const TreatmentPlan plan =
      plot_of("W11", {{"N", {100, 100}}, {"P2O5", {70, 70}}, {"K2O", {40, 40}}}, 20);
  REQUIRE(plan.state == TreatmentState::planned);
  CHECK(kg_of(plan, "urea") == doctest::Approx(217.39 * 20 / 10000).epsilon(0.003));
  CHECK(kg_of(plan, "superphosphate") == doctest::Approx(350.0 * 20 / 10000).epsilon(0.003));
  CHECK(kg_of(plan, "muriate") == doctest::Approx(66.667 * 20 / 10000).epsilon(0.004));
}
