#include "trial/whole_packs.hpp"

#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <algorithm>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

TEST_SUITE("whole packs") {
  TEST_CASE("four blocks of two plots in two loads: two blocks each") {
    std::vector<trial::PlotMass> plots;
    for (int block = 1; block <= 4; ++block)
      for (int k = 0; k < 2; ++k) plots.push_back({100, block});
    const auto packs = trial::whole_packs(plots, 2, 500);
    REQUIRE(packs);
    CHECK(packs->largest_mg == 400);
    CHECK(packs->load_of_plot == std::vector<std::size_t>{0, 0, 0, 0, 1, 1, 1, 1});
  }

  TEST_CASE("three blocks do not go into two loads evenly, their six plots do") {
    std::vector<trial::PlotMass> plots;
    for (int block = 1; block <= 3; ++block)
      for (int k = 0; k < 2; ++k) plots.push_back({100, block});
    const auto packs = trial::whole_packs(plots, 2, 350);
    REQUIRE(packs);
    CHECK(packs->largest_mg == 300);
    CHECK(packs->load_of_plot == std::vector<std::size_t>{0, 0, 0, 1, 1, 1});
  }

  TEST_CASE("five equal plots in two loads would waste a fifth") {
    const std::vector<trial::PlotMass> plots(5, {100, 1});
    CHECK(!trial::whole_packs(plots, 2, 400));
    CHECK(!trial::whole_packs(plots, 5, 99));
    CHECK(trial::whole_packs(plots, 5, 100));
  }

  TEST_CASE("a mixer that takes two of four packs makes two loads of whole packs") {
    TrialDraft draft = small_trial({recipe(300, 0)});  // 4 plots of 0.6 kg
    draft.mixers = {{"jar", MixerKind::bucket, 1.3, {}}};
    const TrialPlan plan = plan_trial(Trial(draft));
    CHECK(plan.treatments[0].batch_codes.size() == 2);
    for (const auto& plot : plan.plots) {
      REQUIRE(plot.packs.size() == 1);
      CHECK(plot.packs[0].sources.size() == 1);
      CHECK(plot.packs[0].first_load == plot.packs[0].last_load);
    }
    CHECK(std::ranges::none_of(plan.treatments[0].notes,
                               [](const Note& note) { return note.code == NoteCode::loads_meet; }));
  }

  TEST_CASE("where packs cross loads the plan says what each takes of each") {
    TrialDraft draft = small_trial({recipe(300, 0)});  // 4 plots of 0.6 kg
    draft.mixers = {{"jar", MixerKind::bucket, 0.9, {}}};
    draft.sites[0].replicates = 5;  // five plots: three loads hold no whole number of them
    draft.mixers = {{"jar", MixerKind::bucket, 1.9, {}}};
    const TrialPlan plan = plan_trial(Trial(draft));
    for (const auto& plot : plan.plots) {
      std::int64_t sum = 0;
      for (const auto& source : plot.packs[0].sources) sum += source.mass_mg;
      CHECK(sum == plot.packs[0].mass_mg);
    }
    CHECK(std::ranges::any_of(plan.treatments[0].notes,
                              [](const Note& note) { return note.code == NoteCode::loads_meet; }));
  }

  TEST_CASE("a mixer that would take thousands of loads is refused by name") {
    TrialDraft draft = small_trial({recipe(300, 0)});
    draft.mixers = {{"thimble", MixerKind::bucket, 0.001, {}}};
    const TrialPlan plan = plan_trial(Trial(draft));
    CHECK(plan.treatments[0].state == TreatmentState::unweighable);
    CHECK(plan.treatments[0].notes.back().text.find("thimble is far too small") !=
          std::string::npos);
  }

  TEST_CASE("a sample of each load comes on top of the spare") {
    TrialDraft draft = small_trial({recipe(300, 0)});
    draft.sample_g = 200;
    const TrialPlan plan = plan_trial(Trial(draft));
    const TreatmentPlan& t = plan.treatments[0];
    CHECK(t.spare_mg >= 200'000 * static_cast<std::int64_t>(t.batch_codes.size()));
  }

  TEST_CASE("what is in stock is not bought, and what is missing comes in whole bags") {
    TrialDraft draft = small_trial({recipe(300, 0)});  // 2.4 kg of base
    draft.stock = {{"base", 1}};
    draft.bags = {{"default", 0.5}};
    const TrialPlan plan = plan_trial(Trial(draft));
    const Purchase& purchase = plan.purchases.front();
    CHECK(purchase.from_stock_kg == doctest::Approx(1));
    CHECK(purchase.bags == 3);  // 1.4 kg are missing
    CHECK(purchase.left_over_kg == doctest::Approx(0.1));
    CHECK(purchase.cost == doctest::Approx(1.5 * 0.3));
  }
}
