#include "trial/chance.hpp"

#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

TEST_SUITE("chance") {
  TEST_CASE("a granule of SGN 300 and a bulk of 900 kg per cubic metre weighs about 21 mg") {
    Material material;
    material.sgn = 300;
    material.bulk_density_kg_per_m3 = 900;
    // pi / 6 x 27 mm3 x 1.5 mg/mm3
    CHECK(trial::granule_kg(material) * 1e6 == doctest::Approx(std::numbers::pi / 6 * 27 * 1.5));
  }

  TEST_CASE("granules of one mass vary as a binomial does") {
    ScenarioDraft draft;
    for (const auto* name : {"a", "b"}) {
      MaterialDraft material;
      material.name = name;
      material.family = "plain";
      material.form = Form::granule;
      material.price_per_t = 1;
      material.contains_percent = {{"K2O", 10}};
      material.sgn = 300;
      material.bulk_density_kg_per_m3 = 900;
      draft.materials.push_back(material);
    }
    draft.rates_kg_per_ha = {{"K2O", {10, 40}}};
    const Scenario scenario(draft);
    trial::Product product;
    product.kg_per_ha = {30, 70};
    const auto list = trial::share_variation(scenario, product, 2'000'000);  // 2 g
    REQUIRE(list.size() == 2);
    const double n = list[0].granules + list[1].granules;
    CHECK(list[0].granules / n == doctest::Approx(0.3));
    CHECK(list[0].deviation_percent == doctest::Approx(100 * std::sqrt(0.7 / (0.3 * n))));
    CHECK(list[1].deviation_percent == doctest::Approx(100 * std::sqrt(0.3 / (0.7 * n))));
  }

  TEST_CASE("few granules on a plot draw a warning, many none") {
    const auto warned = [](double area_m2) {
      TrialDraft draft = small_trial({solved("starter", starter())});
      draft.sites[0].plot_area_m2 = area_m2;
      draft.spare_percent = 100;
      draft.balances = {{"fine", 0.5, 0.001}, {"bench", 6, 0.1}, {"platform", 60, 5}};
      const TrialPlan plan = plan_trial(Trial(draft));
      const auto of = [](const std::vector<Note>& notes) {
        return std::ranges::any_of(
            notes, [](const Note& note) { return note.code == NoteCode::few_granules; });
      };
      REQUIRE(plan.treatments[0].state == TreatmentState::planned);
      return of(plan.notes) || of(plan.treatments[0].notes);
    };
    CHECK(warned(0.5));  // 10 g: some 500 granules
    CHECK(!warned(20));
  }
}
