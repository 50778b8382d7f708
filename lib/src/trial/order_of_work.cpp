#include "trial/order_of_work.hpp"

#include <algorithm>
#include <cstddef>

#include "base/text/wording.hpp"

namespace leastwise::trial {
namespace {

/// Above this much powder per kg of granules it takes longer to spread over them.
constexpr double little_powder_g_per_kg = 5;

std::ptrdiff_t count_of(Role role, const TreatmentPlan& plan) {
  return std::ranges::count(plan.weighings, role, &Weighing::role);
}

bool is_bucket(const TreatmentPlan& plan) { return plan.mixer_kind == MixerKind::bucket; }

void add_preparation(const TreatmentPlan& plan, std::vector<Step>& steps) {
  steps.push_back({count_of(Role::powder, plan) > 0
                       ? "Two people. Overalls, gloves, goggles and a fitted particle "
                         "respirator on before a powder is opened. Lay a sheet under the "
                         "mixer for spills."
                       : "Two people. Overalls, gloves and goggles on. Lay a sheet under "
                         "the mixer for spills.",
                   0});
  steps.push_back(
      {"Check that the mixer is clean, dry and empty. Weigh everything out and tick it "
       "off before anything goes in.",
       0});
}

void add_dry_mixing(const TreatmentPlan& plan, std::vector<Step>& steps) {
  if (count_of(Role::granule, plan) < 2) {
    steps.push_back({"Put in the granules.", 0});
    return;
  }
  steps.push_back(
      {"Put in half of the largest granule, then the others from the smallest mass "
       "up, then the rest of the largest, so that nothing small lies at the bottom.",
       0});
  steps.push_back({is_bucket(plan)
                       ? "Close the bucket and turn it slowly end over end. Open it only at rest."
                       : "Run the drum with the granules alone until they look uniform. Stop it.",
                   is_bucket(plan) ? 2 : 3});
}

void add_binder(const TreatmentPlan& plan, std::vector<Step>& steps) {
  const std::string& name = plan.coating->binder;
  const std::string binder = name.empty() ? "the binder" : "the binder (" + name + ")";
  if (is_bucket(plan)) {
    steps.push_back({"Bucket upright, open and at rest: pour " + binder +
                         " over the granules in a thin stream, clear of the wall.",
                     1});
    steps.push_back({"Close the bucket and turn it until every granule is evenly moist.", 2});
  } else {
    steps.push_back(
        {"Drum stopped and tilted upright, so that nothing runs onto the blades: pour " + binder +
             " over the granules in a thin stream, clear of the wall.",
         1});
    steps.push_back({"Tilt the drum back and run it until every granule is evenly moist.", 3});
  }
}

void add_powder(const TreatmentPlan& plan, std::vector<Step>& steps) {
  const Coating& coating = *plan.coating;
  const double powder_g_per_kg = coating.load_g_per_kg * static_cast<double>(coating.powder_mg) /
                                 static_cast<double>(coating.powder_mg + coating.binder_mg);
  const int minutes = powder_g_per_kg > little_powder_g_per_kg ? 6 : 4;
  if (count_of(Role::powder, plan) > 1)
    steps.push_back({"Shake the powders together in a closed jar.", 1});
  const std::string hollow =
      "Make a hollow in the granules with a scoop, lay the powder in without dropping it, and "
      "cover it with granules.";
  if (is_bucket(plan)) {
    steps.push_back({"Bucket upright and at rest, open it. " + hollow, 1});
    steps.push_back(
        {"Close the lid tight and turn the bucket slowly end over end. It stays closed while it "
         "turns.",
         minutes});
    steps.push_back({"Bucket at rest: let the dust settle before the lid comes off.", 1});
  } else {
    steps.push_back({"STOP the drum. " + hollow, 1});
    steps.push_back({"Fasten the dust cover over the mouth. Run the drum.", minutes});
    steps.push_back({"STOP the drum. Let the dust settle before the cover comes off.", 1});
  }
  steps.push_back({std::string("Look at the bottom and rub a handful on white paper. If powder is "
                               "loose, turn it up with the scoop, close the ") +
                       (is_bucket(plan) ? "lid and turn" : "cover and run") +
                       " again; add no binder beyond the sheet.",
                   1});
}

}  // namespace

std::vector<Step> order_of_work(const TreatmentPlan& plan) {
  std::vector<Step> steps;
  add_preparation(plan, steps);
  add_dry_mixing(plan, steps);
  if (plan.coating) {
    if (plan.coating->binder_mg > 0) add_binder(plan, steps);
    add_powder(plan, steps);
  }
  steps.push_back(
      {"Discharge all of the load, brush out what clings with the mixer at rest, and let it fall "
       "from a small height so that it does not segregate.",
       1});
  steps.push_back(
      {"Weigh and label the containers at once, close them, and write down what is "
       "left as spare.",
       0});
  return steps;
}

std::vector<std::string> general_cautions() {
  return {
      "Wear a fitted particle respirator, eye and skin protection when handling powders, and "
      "keep dust down.",
      "Never oil, wax or other organic matter on ammonium nitrate or other oxidizers.",
      "Guards stay on every machine; unplug mixers before cleaning.",
      "Keep fertilizer and its tools apart from food, feed and seed; use no container again "
      "for either.",
      "Boron, copper and other trace elements are toxic above narrow rates: check the mass twice.",
      "Compatibility tables are guides: a jar test with the real materials decides.",
      "The figures are planning aids: follow local rules and ask a licensed adviser."};
}

std::vector<std::string> store_keeping(double sample_g) {
  return {"Keep containers airtight and lined, off the floor, dry, out of the sun.",
          "Label every container at once, outside and with a second label inside.",
          sample_g > 0
              ? "Keep treatments apart, and the sample of each load, " + rounded_text(sample_g) +
                    " g, until the harvest."
              : "Keep treatments apart, and a sample of each load, about 200 g, until the harvest.",
          "Write down lot numbers and actual masses on the sheets and keep them with the trial.",
          "Clean mixer and tools between treatments, from the control to the richest.",
          "Collect spills and left-overs; do not wash them into drains."};
}

}  // namespace leastwise::trial
