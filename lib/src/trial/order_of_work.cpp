#include "trial/order_of_work.hpp"

#include <algorithm>

namespace leastwise::trial {
namespace {

/// Up to this much powder per kg of granules two stages are enough; beyond, three.
constexpr double powder_for_two_stages_g_per_kg = 5;

bool is_bucket(const TreatmentPlan& plan) { return plan.mixer_kind == MixerKind::bucket; }

void add_dry_mixing(const TreatmentPlan& plan, std::vector<Step>& steps) {
  const auto granules = std::count_if(plan.weighings.begin(), plan.weighings.end(),
                                      [](const Weighing& w) { return w.role == Role::granule; });
  steps.push_back(
      {"Check that the mixer is clean, dry and empty. Weigh everything out and tick it "
       "off before anything goes in.",
       0});
  if (granules > 1) {
    steps.push_back(
        {"Put in half of the largest granule, then the others from the smallest mass "
         "up, then the rest of the largest, so that nothing small lies at the bottom.",
         0});
    steps.push_back({is_bucket(plan) ? "Close the bucket and turn it slowly end over end until the "
                                       "granules look uniform."
                                     : "Run the drum with the granules alone until they look "
                                       "uniform.",
                     is_bucket(plan) ? 2 : 3});
  } else {
    steps.push_back({"Put in the granules.", 0});
  }
}

void add_coating(const TreatmentPlan& plan, std::vector<Step>& steps) {
  const Coating& coating = *plan.coating;
  const double powder_g_per_kg = coating.load_g_per_kg * static_cast<double>(coating.powder_mg) /
                                 static_cast<double>(coating.powder_mg + coating.binder_mg);
  const bool three = powder_g_per_kg > powder_for_two_stages_g_per_kg;
  const auto powders = std::count_if(plan.weighings.begin(), plan.weighings.end(),
                                     [](const Weighing& w) { return w.role == Role::powder; });
  if (coating.binder_mg > 0) {
    steps.push_back(
        {"Drizzle the binder over the moving granules in a thin stream, a little at a "
         "time; not on the wall.",
         1});
    steps.push_back({"Mix until every granule is evenly moist.", is_bucket(plan) ? 2 : 3});
  }
  steps.push_back({std::string(powders > 1 ? "Stir the powders together. Sprinkle them"
                                           : "Sprinkle the powder") +
                       (three ? " in over three stages," : " in over two stages,") +
                       " mixing after each until no dry powder shows.",
                   three ? 6 : 4});
  steps.push_back({"Mix once more.", is_bucket(plan) ? 2 : 3});
  steps.push_back(
      {"Check for loose powder: rub a handful on white paper and look at the bottom. "
       "If powder comes off, mix longer; do not add binder beyond the sheet.",
       1});
}

bool brings(const Scenario& scenario, const TreatmentPlan& plan, std::string_view nutrient) {
  return std::any_of(plan.weighings.begin(), plan.weighings.end(), [&](const Weighing& weighing) {
    const auto i = scenario.index_of(weighing.material);
    return weighing.role != Role::binder && i &&
           content_percent(scenario.materials()[*i], nutrient) > 0;
  });
}

}  // namespace

std::vector<Step> order_of_work(const TreatmentPlan& plan) {
  std::vector<Step> steps;
  add_dry_mixing(plan, steps);
  if (plan.coating) add_coating(plan, steps);
  steps.push_back(
      {"Discharge all of the load, brush out what clings, and let it fall from a small "
       "height so that it does not segregate.",
       1});
  steps.push_back(
      {"Weigh and label the containers at once, close them, and write down what is "
       "left as spare.",
       0});
  return steps;
}

std::vector<std::string> cautions_for(const Scenario& scenario, const TreatmentPlan& plan) {
  std::vector<std::string> cautions;
  if (plan.coating) {
    cautions.emplace_back(
        "Powders: wear a fitted particle respirator, goggles and gloves; weigh where there is no "
        "draught, and wash hands before eating.");
  }
  if (brings(scenario, plan, "B")) {
    cautions.emplace_back(
        "Boron is toxic to crops just above its rate and harmful to people: keep to the mass, "
        "spread without overlaps.");
  }
  if (brings(scenario, plan, "Cu")) {
    cautions.emplace_back(
        "Copper is toxic above its rate, to sheep and water life most of all: clean up every "
        "spill.");
  }
  if (brings(scenario, plan, "N-nitrate")) {
    cautions.emplace_back(
        "Nitrates feed a fire: keep oil, wax, sawdust, rags and other organic matter away, and no "
        "flames or sparks.");
  }
  if (!is_bucket(plan)) {
    cautions.emplace_back(
        "Mixer: guards closed, nothing loose near the drum, hands and tools out while it turns; "
        "unplug it before cleaning.");
  }
  return cautions;
}

std::vector<std::string> general_cautions() {
  return {
      "Wear a fitted particle respirator, eye and skin protection when handling powders, and "
      "keep dust down.",
      "Never oil, wax or other organic matter on ammonium nitrate or other oxidizers.",
      "Guards stay on every machine; unplug mixers before cleaning.",
      "Keep fertilizer and its tools apart from food, feed and seed; use no container again "
      "for either.",
      "Boron and copper are toxic above narrow rates: check the mass twice.",
      "Compatibility tables are guides: a jar test with the real materials decides.",
      "The figures are planning aids: follow local rules and ask a licensed adviser."};
}

std::vector<std::string> store_keeping() {
  return {"Keep containers airtight and lined, off the floor, dry, out of the sun.",
          "Label every container at once, outside and with a second label inside.",
          "Keep treatments apart, and a sample of each load, about 200 g, until the harvest.",
          "Write down lot numbers and actual masses on the sheets and keep them with the trial.",
          "Clean mixer and tools between treatments, from the control to the richest.",
          "Collect spills and left-overs; do not wash them into drains."};
}

}  // namespace leastwise::trial
