#include "trial/premix.hpp"

#include <leastwise/trial_plan.hpp>

#include <doctest/doctest.h>

#include <cmath>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

Weighing powder_of(double target_g, std::int64_t readability_mg) {
  Weighing weighing;
  weighing.material = "boric-acid";
  weighing.role = Role::powder;
  weighing.target_g = target_g;
  weighing.readability_mg = readability_mg;
  weighing.mass_mg = static_cast<std::int64_t>(
                         std::llround(target_g * 1000 / static_cast<double>(readability_mg))) *
                     readability_mg;
  return weighing;
}

/// Follows the recipe of a pre-mix and returns how many g of the powder a load then holds.
double followed(const Premix& premix) {
  double share = 1;
  for (const auto& step : premix.steps) {
    share *=
        static_cast<double>(step.powder_mg) / static_cast<double>(step.powder_mg + step.carrier_mg);
  }
  return static_cast<double>(premix.take_mg) / 1000 * share;
}

}  // namespace

TEST_SUITE("premix") {
  TEST_CASE("0.8 g on a balance of 0.1 g: 5 g in 35 g, of which 5.6 g hold 0.8 g") {
    const Premix premix = trial::premix_for(powder_of(0.8, 100), {}, 1);
    REQUIRE(premix.steps.size() == 1);
    CHECK(premix.parts == 7);
    CHECK(premix.steps[0].powder_mg == 5000);
    CHECK(premix.steps[0].carrier_mg == 30000);
    CHECK(premix.take_mg == 5600);
    CHECK(premix.holds_mg == 800);
    CHECK(premix.carrier_mg == 4800);
  }

  TEST_CASE("every pre-mix delivers the target to within 1 %, from masses the balance can weigh") {
    for (double target = 0.011; target < 50; target *= 1.37) {
      for (const std::int64_t readability : {10, 100, 1000, 5000}) {
        for (const std::size_t loads : {1U, 3U, 17U}) {
          const Weighing powder = powder_of(target, readability);
          if (target * 1000 >= 50.0 * static_cast<double>(readability)) continue;
          const Premix premix = trial::premix_for(powder, {}, loads);
          CAPTURE(target);
          CAPTURE(readability);
          CHECK(followed(premix) == doctest::Approx(target).epsilon(0.0101));
          CHECK(premix.parts <= 10);
          CHECK(premix.take_mg >= 50 * readability);
          CHECK(premix.take_mg % readability == 0);
          for (const auto& step : premix.steps) {
            CHECK(step.powder_mg >= 50 * readability);
            CHECK(step.powder_mg % readability == 0);
            CHECK(step.carrier_mg % readability == 0);
          }
          // What is made serves every load.
          const auto& last = premix.steps.back();
          CHECK(premix.take_mg * static_cast<std::int64_t>(loads) <=
                last.powder_mg + last.carrier_mg);
        }
      }
    }
  }

  TEST_CASE("another powder of the load that can spare the mass is the carrier") {
    Weighing carrier = powder_of(40, 100);
    carrier.material = "zinc-oxide";
    const Weighing boron = powder_of(0.8, 100);
    const Premix premix = trial::premix_for(boron, {carrier, boron}, 1);
    CHECK(premix.carrier == "zinc-oxide");
  }

  TEST_CASE("rounding that shifts a nutrient by more than 1 % is told with its remedies") {
    // 2 kg/ha of powder on 80 m2 are 16 g: 16.0 +- 2.5 g on a balance that reads 5 g.
    TrialDraft draft = small_trial({recipe(400, 2)});
    draft.balances = {{"coarse", 60, 5}};
    const TreatmentPlan plan = plan_trial(Trial(draft)).treatments.front();
    bool warned = false;
    for (const auto& note : plan.notes) {
      if (note.level != NoteLevel::warning) continue;
      warned = warned || (note.text.find("Zn by -6.25 %") != std::string::npos &&
                          note.text.find("reads 0.2 g or finer") != std::string::npos &&
                          note.text.find("15.7 times as large") != std::string::npos &&
                          note.text.find("pre-mix") != std::string::npos);
    }
    CHECK(warned);
    REQUIRE(plan.premixes.size() == 1);
    CHECK(plan.premixes[0].material == "powder");
    CHECK(followed(plan.premixes[0]) == doctest::Approx(16).epsilon(0.01));
  }

  TEST_CASE("a balance fine enough draws no warning and no pre-mix") {
    const TreatmentPlan plan = plan_trial(Trial(small_trial({recipe(400, 2)}))).treatments.front();
    CHECK(plan.premixes.empty());
    for (const auto& note : plan.notes) CHECK(note.level != NoteLevel::warning);
  }
}
