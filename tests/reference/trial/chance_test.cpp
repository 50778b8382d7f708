// The chance variation of a share against a simulated count: granules are drawn one by one from a
// load that is mixed as well as can be, until a plot's pack is full.
#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>
#include <string>
#include <vector>

using namespace leastwise;

namespace {

/// A granule of `mm` of a bulk of 900 kg per cubic metre, six tenths of which is granule: mg.
double granule_mg(double mm) { return std::numbers::pi / 6 * mm * mm * mm * 1.5; }

struct Kind {
  std::string name;
  double kg_per_ha;
  double mm;
};

/// Packs of `pack_g` by the thousand; the standard deviation of the share of the first kind, in
/// percent of the share.
double simulated_percent(const std::vector<Kind>& kinds, double pack_g, int packs) {
  std::vector<double> numbers;  // how many of each kind lie in the load
  for (const auto& kind : kinds) numbers.push_back(kind.kg_per_ha / granule_mg(kind.mm));
  std::mt19937_64 random(20260403);
  std::discrete_distribution<std::size_t> draw(numbers.begin(), numbers.end());
  double sum = 0;
  double squares = 0;
  for (int p = 0; p < packs; ++p) {
    double all = 0;
    double first = 0;
    while (all < pack_g * 1000) {
      const std::size_t k = draw(random);
      const double mg = granule_mg(kinds[k].mm);
      all += mg;
      if (k == 0) first += mg;
    }
    const double share = first / all;
    sum += share;
    squares += share * share;
  }
  const double mean = sum / packs;
  return 100 * std::sqrt(squares / packs - mean * mean) / mean;
}

/// What the plan says of the first kind, for a pack of `pack_g` on a plot of 1 m2.
double planned_percent(const std::vector<Kind>& kinds, double pack_g) {
  ScenarioDraft scenario;
  double total = 0;
  TreatmentDraft treatment;
  treatment.name = "blend";
  for (const auto& kind : kinds) {
    MaterialDraft material;
    material.name = kind.name;
    material.family = "plain";
    material.form = Form::granule;
    material.price_per_t = 1;
    material.contains_percent = {{"K2O", 10}};
    material.sgn = kind.mm * 100;
    material.ui = 50;
    material.bulk_density_kg_per_m3 = 900;
    scenario.materials.push_back(material);
    treatment.recipe_kg_per_ha.push_back({kind.name, kind.kg_per_ha});
    total += kind.kg_per_ha;
  }
  Limits anything;
  anything.max = 100;
  scenario.grade_percent = {{"K2O", anything}};
  treatment.scenario = Scenario(scenario);
  TrialDraft draft;
  draft.treatments = {treatment};
  SiteDraft site;
  site.name = "pots";
  site.plot_area_m2 = pack_g / total * 10;  // kg/ha x m2 / 10 = g
  draft.sites = {site};
  draft.mixers = {{"bucket", MixerKind::bucket, 10, {}}};
  draft.balances = {{"fine", 0.5, 0.001}};
  const TrialPlan plan = plan_trial(Trial(draft));
  REQUIRE(plan.treatments[0].state == TreatmentState::planned);
  return plan.treatments[0].variation[0].deviation_percent;
}

}  // namespace

TEST_CASE("granules of one size: the binomial, as a count of drawn granules has it") {
  for (const double share : {0.05, 0.2, 0.6}) {
    CAPTURE(share);
    const std::vector<Kind> kinds{{"a", 100 * share, 3}, {"b", 100 * (1 - share), 3}};
    CHECK(planned_percent(kinds, 5) ==
          doctest::Approx(simulated_percent(kinds, 5, 8000)).epsilon(0.04));
  }
}

TEST_CASE("granules of unequal size: the count of drawn granules has the same spread") {
  const std::vector<Kind> coarse{{"a", 30, 3.6}, {"b", 50, 2.8}, {"c", 20, 2.2}};
  CHECK(planned_percent(coarse, 8) ==
        doctest::Approx(simulated_percent(coarse, 8, 8000)).epsilon(0.04));
  const std::vector<Kind> fine{{"a", 10, 2}, {"b", 90, 3.4}};
  CHECK(planned_percent(fine, 6) ==
        doctest::Approx(simulated_percent(fine, 6, 8000)).epsilon(0.04));
}

TEST_CASE("some 90 granules of 20 mg vary by 12 to 21 percent in shares of 20 to 40 percent") {
  // The hand calculation behind the warning: sqrt((1 - p) / (n p)).
  const double mm = std::cbrt(20 / 1.5 * 6 / std::numbers::pi);
  const std::vector<Kind> kinds{{"a", 20, mm}, {"b", 80, mm}};
  CHECK(planned_percent(kinds, 1.8) ==
        doctest::Approx(100 * std::sqrt(0.8 / (90 * 0.2))).epsilon(0.01));
}
