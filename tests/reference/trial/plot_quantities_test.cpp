// Published worked examples of fertilizer per area, from tests/reference/data: what the sheet of a
// trial with one such plot makes of them.
#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <map>
#include <string>

#include "support/csv.hpp"

using namespace leastwise;

namespace {

constexpr double kg_per_lb = 0.45359237;        // international pound, exact
constexpr double m2_per_1000_sq_ft = 92.90304;  // international foot, exact

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

TEST_CASE("a garden plot of 625 square feet takes 1.14 and 8.33 lb") {
  // Published for 1000 square feet: 3 lb N and 1 lb phosphate from 11-55-0 and 21-0-0, which are
  // 1.8 and 13.3 lb (backyardgardener.com/veg/replen.html); times 0.625 for the plot.
  const double kg_per_ha = kg_per_lb / m2_per_1000_sq_ft * 10000;
  const TreatmentPlan plan =
      plot_of("W18", {{"N", {3 * kg_per_ha, 3 * kg_per_ha}}, {"P2O5", {kg_per_ha, kg_per_ha}}},
              0.625 * m2_per_1000_sq_ft);
  REQUIRE(plan.state == TreatmentState::planned);
  CHECK(kg_of(plan, "11-55-0") / kg_per_lb ==
        doctest::Approx(1.8 * 0.625).epsilon(0.0045 / 1.125 * 4));
  CHECK(kg_of(plan, "11-55-0") / kg_per_lb == doctest::Approx(1.1364).epsilon(0.001));
  CHECK(kg_of(plan, "21-0-0") / kg_per_lb == doctest::Approx(8.3333).epsilon(0.001));
}

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

TEST_CASE("a hectare at 125-68-125 takes 272, 151 and 208 kg") {
  // growfood.com/193, printed to the kilogram.
  const TreatmentPlan plan =
      plot_of("W17", {{"N", {125, 125}}, {"P2O5", {68, 68}}, {"K2O", {125, 125}}}, 10000);
  REQUIRE(plan.state == TreatmentState::planned);
  CHECK(std::abs(kg_of(plan, "46-0-0") - 272) < 0.5);
  CHECK(std::abs(kg_of(plan, "0-45-0") - 151) < 0.5);
  CHECK(std::abs(kg_of(plan, "0-0-60") - 208) < 0.5);
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
