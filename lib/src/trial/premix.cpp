#include "trial/premix.hpp"

#include <algorithm>
#include <cmath>

#include "base/text/wording.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

constexpr int most_parts = 10;
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

bool is_too_little(const Weighing& weighing) {
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
    if (is_too_little(weighing)) culprits.push_back(&weighing);
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
  if (weighing.role == Role::powder) text += ", or use the pre-mix below";
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

Premix premix_for(const Weighing& powder, const std::vector<Weighing>& load, std::size_t loads) {
  const double target = powder.target_g * mg_per_g;
  const std::int64_t least = least_digits * powder.readability_mg;
  const double needed = std::ceil(static_cast<double>(least) / target - 1e-9);
  int steps = 1;
  while (std::pow(most_parts, steps) < needed) ++steps;
  Premix premix;
  premix.material = powder.material;
  premix.parts = static_cast<int>(std::ceil(std::pow(needed, 1.0 / steps) - 1e-9));
  const double whole = std::pow(premix.parts, steps);
  premix.take_mg = rounded_to(target * whole, powder.readability_mg);
  premix.holds_mg =
      static_cast<std::int64_t>(std::llround(static_cast<double>(premix.take_mg) / whole));
  premix.carrier_mg = premix.take_mg - premix.holds_mg;
  const double all = static_cast<double>(premix.take_mg) * static_cast<double>(loads);
  const auto batches =
      static_cast<std::int64_t>(std::ceil(all / static_cast<double>(least * premix.parts) - 1e-9));
  for (int i = 0; i < steps; ++i) {
    premix.steps.push_back({least * batches, least * batches * (premix.parts - 1)});
  }
  const Weighing* carrier = nullptr;
  for (const auto& other : load) {
    if (other.role != Role::powder || other.material == powder.material) continue;
    if (other.mass_mg < 2 * premix.carrier_mg) continue;
    if (carrier == nullptr || other.mass_mg > carrier->mass_mg) carrier = &other;
  }
  if (carrier != nullptr) premix.carrier = carrier->material;
  return premix;
}

void add_remedies(const Scenario& scenario, TreatmentPlan& plan) {
  for (const auto& check : plan.nutrients) {
    if (check.planned_kg_per_ha <= 0) continue;
    if (std::abs(check.deviation_percent) > largest_shift_percent ||
        check.readability_percent > largest_shift_percent * (1 + 1e-9)) {
      warn(scenario, check, plan);
    }
  }
  for (const auto& weighing : plan.weighings) {
    if (weighing.role == Role::powder && is_too_little(weighing)) {
      plan.premixes.push_back(premix_for(weighing, plan.weighings, plan.batch_codes.size()));
    }
  }
}

}  // namespace leastwise::trial
