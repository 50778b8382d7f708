#include "trial/rescue.hpp"

#include <algorithm>
#include <cmath>

#include "base/text/wording.hpp"
#include "trial/achieved.hpp"
#include "trial/balances.hpp"
#include "trial/loads_and_packs.hpp"
#include "trial/mass.hpp"
#include "trial/mixer_load.hpp"
#include "trial/solution.hpp"

namespace leastwise::trial {
namespace {

/// A batch that would have to grow beyond this is made anew.
constexpr double most_growth = 1.5;

std::string grams(std::int64_t mg) {
  return number_text(static_cast<double>(mg) / mg_per_g) + " g";
}

/// The largest ratio of weighed to planned, at least 1.
double growth_of(const BatchCheck& check) {
  double growth = 1;
  for (const auto& material : check.materials) {
    if (material.planned_mg <= 0) continue;
    growth =
        std::max(growth, material.weighed_g * mg_per_g / static_cast<double>(material.planned_mg));
  }
  return growth;
}

/// Rounded to the balance; at most half a digit is missing or too much.
Addition addition_for(const Trial& trial, const WeighedMaterial& material, double growth) {
  const double missing =
      growth * static_cast<double>(material.planned_mg) - material.weighed_g * mg_per_g;
  Addition addition;
  addition.material = material.material;
  if (missing <= 0) return addition;
  const Balance& balance = balance_for(trial.balances(), missing);
  addition.balance = balance.name;
  addition.mass_mg = rounded_to(missing, readability_mg(balance));
  return addition;
}

bool mix_suffices(const Weighing& weighing, const std::vector<StockMix>& mixes,
                  std::int64_t added_mg) {
  if (!weighing.mix) return true;
  const StockMix& mix = mixes[*weighing.mix];
  return mix.mass_mg - mix.taken_mg >= added_mg;
}

double capacity_of(const Trial& trial, const TreatmentPlan& plan) {
  const auto mixer = std::ranges::find(trial.mixers(), plan.mixer, &Mixer::name);
  return capacity_kg(mixer->capacity_kg, mixer->capacity_litres, plan.bulk_density_kg_per_m3);
}

Rescue discarded(std::string why) {
  Rescue rescue;
  rescue.text = "discard this batch and mix it anew: " + std::move(why);
  return rescue;
}

}  // namespace

Rescue rescue_of(const Trial& trial, const TrialPlan& plan, std::size_t treatment,
                 const std::vector<StockMix>& mixes, const BatchCheck& check) {
  const TreatmentPlan& planned = plan.treatments[treatment];
  const Scenario& scenario = *trial.treatments()[treatment].scenario;
  const double growth = growth_of(check);
  if (growth > most_growth)
    return discarded("it would have to grow by more than half to be right again");
  Rescue rescue;
  Contents contents;
  contents.kg.assign(scenario.materials().size(), 0);
  std::string words;
  for (std::size_t w = 0; w < check.materials.size(); ++w) {
    const auto& material = check.materials[w];
    const auto weighing = std::ranges::find_if(planned.weighings, [&](const Weighing& row) {
      return row.material == material.material ||
             (row.material.empty() && row.role == Role::binder && material.material == "binder");
    });
    const Addition addition = addition_for(trial, material, growth);
    add_contents(scenario, *weighing,
                 material.weighed_g / 1000 + static_cast<double>(addition.mass_mg) / mg_per_kg,
                 mixes, contents);
    if (addition.mass_mg <= 0) continue;
    if (!mix_suffices(*weighing, mixes, addition.mass_mg))
      return discarded("too little of " + material.material + " is left to put it right");
    words += (words.empty() ? "" : ", ") + grams(addition.mass_mg) + " of " + addition.material;
    rescue.additions.push_back(addition);
  }
  rescue.load_g = contents.total_kg() * 1000;
  if (contents.total_kg() > capacity_of(trial, planned) * (1 + 1e-9))
    return discarded("put right it would weigh " + rounded_text(contents.total_kg()) +
                     " kg, more than the mixer holds");
  add_sprays(scenario, planned, mixes, contents);
  const bool recipe = trial.treatments()[treatment].kind == TreatmentKind::recipe;
  const auto rules = rule_checks(scenario, contents, rate_on_plots(planned), recipe);
  if (words.empty() || worst(rules) == Verdict::broken)
    return discarded("no addition that these balances can weigh puts it right");
  rescue.possible = true;
  rescue.text = "before any of it is packed: add " + words +
                ", and mix again; the batch then weighs " + rounded_text(contents.total_kg()) +
                " kg and the packs keep their masses";
  return rescue;
}

}  // namespace leastwise::trial
