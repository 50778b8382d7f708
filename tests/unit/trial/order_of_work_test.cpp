#include "trial/order_of_work.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "samples.hpp"

using namespace leastwise;
using namespace leastwise::trial_test;

namespace {

/// The steps of a coated load in the only mixer there is.
std::vector<Step> steps_in(MixerKind kind, double powder_kg_per_ha) {
  TrialDraft draft = small_trial({recipe(200, powder_kg_per_ha)});
  draft.mixers = {{"mixer", kind, 60, {}}};
  return plan_trial(Trial(draft)).treatments.front().order_of_work;
}

/// The positions at which `words` stand, in order; shorter than `words` where one is missing.
std::vector<std::size_t> in_order(const std::vector<Step>& steps,
                                  const std::vector<std::string>& words) {
  std::vector<std::size_t> found;
  std::size_t from = 0;
  for (const auto& word : words) {
    for (std::size_t i = from; i < steps.size(); ++i) {
      if (steps[i].text.find(word) == std::string::npos) continue;
      found.push_back(i);
      from = i;
      break;
    }
  }
  return found;
}

}  // namespace

// The order is common practice: binder and powder go onto granules at rest, and what turns is
// closed.
TEST_SUITE("order of work") {
  TEST_CASE("a drum is stopped for binder and powder, and covered before it runs with dust") {
    const auto steps = steps_in(MixerKind::drum, 2);
    const std::vector<std::string> order{"Two people. Overalls",
                                         "respirator",
                                         "sheet under",
                                         "stopped and tilted upright",
                                         "the binder (water)",
                                         "Tilt",
                                         "run it",
                                         "STOP the drum",
                                         "hollow",
                                         "powder in",
                                         "cover it",
                                         "dust cover over the mouth",
                                         "Run the drum",
                                         "STOP",
                                         "dust settle",
                                         "Look at the bottom",
                                         "Discharge"};
    CHECK(in_order(steps, order).size() == order.size());
  }

  TEST_CASE("a bucket is opened at rest only, and closed whenever it turns") {
    const auto steps = steps_in(MixerKind::bucket, 2);
    const std::vector<std::string> order{"Two people. Overalls",
                                         "open and at rest",
                                         "the binder (water)",
                                         "Close the bucket",
                                         "turn it",
                                         "at rest, open it",
                                         "hollow",
                                         "cover it",
                                         "Close the lid tight",
                                         "stays closed",
                                         "dust settle",
                                         "Look at the bottom"};
    CHECK(in_order(steps, order).size() == order.size());
    for (const auto& step : steps) {
      CAPTURE(step.text);
      CHECK(step.text.find("moving granules") == std::string::npos);
      CHECK(step.text.find("drum") == std::string::npos);
    }
  }

  TEST_CASE("granules alone need neither binder nor respirator") {
    for (const auto kind : {MixerKind::bucket, MixerKind::drum}) {
      for (const auto& step : steps_in(kind, 0)) {
        CAPTURE(step.text);
        CHECK(step.text.find("binder") == std::string::npos);
        CHECK(step.text.find("powder") == std::string::npos);
        CHECK(step.text.find("respirator") == std::string::npos);
      }
    }
  }

  TEST_CASE("more than 5 g of powder per kg takes longer") {
    const auto minutes = [](double powder) {
      int sum = 0;
      for (const auto& step : steps_in(MixerKind::bucket, powder)) sum += step.minutes;
      return sum;
    };
    CHECK(minutes(2) == minutes(0.5) + 2);
  }
}
