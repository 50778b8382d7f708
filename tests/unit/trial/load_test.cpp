#include "trial/mixer_load.hpp"

#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <numeric>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

std::int64_t sum_of(const TreatmentPlan& plan) {
  return std::accumulate(plan.weighings.begin(), plan.weighings.end(), std::int64_t{0},
                         [](std::int64_t sum, const Weighing& w) { return sum + w.mass_mg; });
}

TreatmentPlan planned(const TrialDraft& draft) {
  return plan_trial(Trial(draft)).treatments.front();
}

}  // namespace

TEST_SUITE("loads") {
  TEST_CASE("below 10 kg a bucket is used, from there up a drum") {
    TrialDraft draft = small_trial({recipe(1000, 0)});  // 1000 kg/ha on 4 x 20 m2: 8 kg
    CHECK(planned(draft).mixer == "bucket");
    draft.sites[0].plot_area_m2 = 25;  // 10 kg
    CHECK(planned(draft).mixer == "drum");
  }

  TEST_CASE("what no mixer takes at once is split into equal loads") {
    TrialDraft draft = small_trial({recipe(1000, 0)});
    draft.sites[0].plot_area_m2 = 400;  // 160 kg in a drum of 60: a plot's 40 kg each
    const TreatmentPlan plan = planned(draft);
    CHECK(plan.batch_codes ==
          std::vector<std::string>{"ST-T1-B1", "ST-T1-B2", "ST-T1-B3", "ST-T1-B4"});
    CHECK(plan.total_mg == 4 * plan.load_mg);
    CHECK(plan.load_mg == sum_of(plan));
    CHECK(plan.packs_mg == 160'000'000);
    CHECK(plan.spare_mg == plan.total_mg - plan.packs_mg);
    CHECK(plan.spare_mg >= 0);
    CHECK(plan.load_mg <= 60'000'000);
  }

  TEST_CASE("a capacity in litres is turned into kg by the bulk density of the blend") {
    TrialDraft draft = small_trial({recipe(1000, 0)});
    draft.mixers = {{"drum", MixerKind::drum, {}, 50}};
    draft.sites[0].plot_area_m2 = 200;  // 80 kg; 50 l at 800 kg per m3 (none stated) are 40 kg
    const TreatmentPlan plan = planned(draft);
    CHECK(plan.batch_codes.size() == 2);
    CHECK(trial::capacity_kg({}, 50, 800) == doctest::Approx(40));
    CHECK(trial::capacity_kg(30, 50, 800) == doctest::Approx(30));
  }

  TEST_CASE("the spare is at least the percentage asked for") {
    TrialDraft draft = small_trial({recipe(321.7, 3.3)});
    for (const double percent : {0.0, 2.5, 10.0, 33.0}) {
      draft.spare_percent = percent;
      const TreatmentPlan plan = planned(draft);
      CHECK(static_cast<double>(plan.spare_mg) >=
            static_cast<double>(plan.packs_mg) * percent / 100 - 1e-3);
    }
  }

  TEST_CASE("only the granule is topped up: powders stay at their nearest digit") {
    TrialDraft draft = small_trial({recipe(400, 4)});
    draft.spare_percent = 7;
    const TreatmentPlan plan = planned(draft);
    for (const auto& weighing : plan.weighings) {
      CHECK(weighing.mass_mg % weighing.readability_mg == 0);
      if (weighing.role == Role::granule) continue;
      const double off = std::abs(weighing.target_g * 1000 - static_cast<double>(weighing.mass_mg));
      CHECK(off <= static_cast<double>(weighing.readability_mg) / 2 + 1e-6);
    }
  }

  TEST_CASE("a bucket that is asked to carry 10 kg or more draws a caution") {
    TrialDraft draft = small_trial({recipe(1000, 0)});
    draft.mixers = {{"bucket", MixerKind::bucket, 25, {}}};
    draft.sites[0].plot_area_m2 = 50;  // 20 kg
    const TreatmentPlan plan = planned(draft);
    REQUIRE(!plan.notes.empty());
    CHECK(plan.notes.back().text.find("drum mixer") != std::string::npos);
  }
}
