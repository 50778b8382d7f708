#include "trial/remedies.hpp"

#include <algorithm>
#include <cmath>

#include "base/text/wording.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

constexpr double largest_shift_percent = 1;

/// The readability, 1, 2 or 5 times a power of ten, that weighs `mg` to within 1 %.
double fine_enough_g(double mg) {
  const double most = mg / mg_per_g / static_cast<double>(least_digits);
  const double power = std::pow(10.0, std::floor(std::log10(most) + 1e-9));
  for (const double step : {5.0, 2.0}) {
    if (step * power <= most * (1 + 1e-9)) return step * power;
  }
  return power;
}

bool is_weighed_coarsely(const Weighing& weighing) {
  return weighing.target_g * mg_per_g <
         static_cast<double>(least_digits * weighing.readability_mg) * (1 - 1e-9);
}

std::string percent_text(double percent) { return rounded_text(std::round(percent * 100) / 100); }

/// The granules and powders through which a digit shifts the nutrient.
std::vector<const Weighing*> culprits_of(const Scenario& scenario, const Reported& nutrient,
                                         const TreatmentPlan& plan) {
  std::vector<const Weighing*> culprits;
  for (const auto& weighing : plan.weighings) {
    const auto i = scenario.index_of(weighing.material);
    if (weighing.role == Role::binder || !i || nutrient.content_percent[*i] <= 0) continue;
    if (is_weighed_coarsely(weighing)) culprits.push_back(&weighing);
  }
  return culprits;
}

std::string remedy_for(const Weighing& weighing, const TreatmentPlan& plan) {
  const double target_mg = weighing.target_g * mg_per_g;
  const double larger = static_cast<double>(least_digits * weighing.readability_mg) / target_mg;
  std::string text = "weigh " + in_quotes(weighing.material) + " on a balance that reads " +
                     number_text(fine_enough_g(target_mg)) +
                     " g or finer, or make a load at least " +
                     rounded_text(std::ceil(larger * 10) / 10) + " times as large";
  if (plan.batch_codes.size() > 1) text += " (fewer, larger loads)";
  return text;
}

void warn(const Scenario& scenario, const NutrientCheck& check, TreatmentPlan& plan) {
  const auto& reported = scenario.reported();
  const auto nutrient = std::find_if(reported.begin(), reported.end(), [&](const Reported& r) {
    return r.nutrient == check.nutrient;
  });
  const bool shifted = std::abs(check.deviation_percent) > largest_shift_percent;
  std::string text = shifted ? "rounding shifts " + check.nutrient + " by " +
                                   percent_text(check.deviation_percent) + " % of the plan"
                             : "the readability of the balance leaves " + check.nutrient +
                                   " open by " + percent_text(check.readability_percent) + " %";
  const auto culprits = culprits_of(scenario, *nutrient, plan);
  for (const auto* weighing : culprits) {
    text += (weighing == culprits.front() ? ": " : "; ") + remedy_for(*weighing, plan);
  }
  if (culprits.empty()) text += ": use a finer balance or a larger load";
  plan.notes.push_back(
      {NoteLevel::warning, NoteCode::rounding_shift, {check.nutrient}, std::move(text)});
}

}  // namespace

void add_remedies(const Scenario& scenario, TreatmentPlan& plan) {
  for (const auto& check : plan.nutrients) {
    if (check.planned_kg_per_ha <= 0) continue;
    if (std::abs(check.deviation_percent) > largest_shift_percent ||
        check.readability_percent > largest_shift_percent * (1 + 1e-9)) {
      warn(scenario, check, plan);
    }
  }
}

void add_mix_remedies(const std::vector<StockMix>& mixes, TreatmentPlan& plan) {
  for (const auto& weighing : plan.weighings) {
    if (!weighing.mix || mixes[*weighing.mix].carrier_in_load) continue;
    for (const auto& part : mixes[*weighing.mix].parts) {
      if (part.carrier) continue;
      const double mg = weighing.target_g * mg_per_g * part.fraction;
      const double larger = static_cast<double>(least_digits * weighing.readability_mg) / mg;
      plan.notes.push_back(
          {NoteLevel::warning,
           NoteCode::rounding_shift,
           {part.material},
           "a load holds " + rounded_text(mg / mg_per_g) + " g of " + in_quotes(part.material) +
               ", which takes a carrier to weigh: use a balance that reads " +
               number_text(fine_enough_g(mg)) + " g or finer, or make the load at least " +
               rounded_text(std::ceil(larger * 10) / 10) +
               " times as large (larger plots, or more spare)"});
    }
  }
}

}  // namespace leastwise::trial
