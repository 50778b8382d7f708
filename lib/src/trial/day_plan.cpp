#include "trial/day_plan.hpp"

#include <leastwise/micronutrient.hpp>

#include <algorithm>
#include <cstdint>
#include <numeric>
#include <tuple>

namespace leastwise::trial {
namespace {

// Common practice, with everything at hand.
constexpr int minutes_per_weighing = 2;
constexpr int minutes_per_pack = 1;
constexpr int cleaning_minutes = 10;
constexpr int stock_mix_minutes = 10;

bool is_micronutrient(const std::string& nutrient) {
  return find_micronutrient(nutrient) != nullptr;
}

/// Micronutrients, then all nutrients, kg per hectare.
std::pair<double, double> richness(const TreatmentPlan& treatment) {
  double micro = 0;
  double all = 0;
  for (const auto& check : treatment.nutrients) {
    all += check.planned_kg_per_ha;
    if (is_micronutrient(check.nutrient)) micro += check.planned_kg_per_ha;
  }
  return {micro, all};
}

/// How many packs are filled from each load, rounded up.
int packs_per_load(const TrialPlan& plan, std::size_t treatment) {
  std::size_t packs = 0;
  for (const auto& plot : plan.plots) {
    if (plot.treatment == treatment) packs += plot.packs.size();
  }
  const std::size_t loads = plan.treatments[treatment].batch_codes.size();
  return static_cast<int>((packs + loads - 1) / loads);
}

int minutes_of_load(const TrialPlan& plan, std::size_t treatment) {
  const TreatmentPlan& product = plan.treatments[treatment];
  int minutes = minutes_per_pack * packs_per_load(plan, treatment);
  for (const auto& weighing : product.weighings) {
    minutes += minutes_per_weighing * static_cast<int>(weighing.parts_mg.size());
  }
  for (const auto& step : product.order_of_work) minutes += step.minutes;
  return minutes;
}

std::vector<std::size_t> order_of_treatments(const TrialPlan& plan, std::size_t application) {
  std::vector<std::size_t> order;
  for (std::size_t t = 0; t < plan.treatments.size(); ++t) {
    const TreatmentPlan& treatment = plan.treatments[t];
    if (treatment.state == TreatmentState::planned && treatment.application == application)
      order.push_back(t);
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return richness(plan.treatments[a]) < richness(plan.treatments[b]);
  });
  return order;
}

/// The work for one application, whose clock starts at nothing.
void add_day(const TrialPlan& plan, std::size_t application, std::vector<DayTask>& tasks) {
  int clock = 0;
  const std::size_t first = tasks.size();
  const auto add = [&](DayTask task) {
    clock += task.minutes;
    task.application = application;
    task.ends_after = clock;
    tasks.push_back(std::move(task));
  };
  for (const auto& mix : plan.mixes) {
    for (const auto& step : mix.steps) {
      if (mix.application != application) continue;
      const int weighings = static_cast<int>(step.weighings.size());
      add({"", step.batch_code,
           mix.solution ? "Make " + mix.code + ": weigh and dissolve"
                        : "Stock " + mix.code + ": weigh and mix",
           minutes_per_weighing * weighings + stock_mix_minutes});
    }
  }
  for (const std::size_t t : order_of_treatments(plan, application)) {
    if (tasks.size() > first) {
      add({"", "", "Brush out mixer, scoops and balance pans, dry; wipe the bench",
           cleaning_minutes});
    }
    const int minutes = minutes_of_load(plan, t);
    for (const auto& batch : plan.treatments[t].batch_codes) {
      add({plan.treatments[t].code, batch, "Weigh, mix, pack", minutes});
    }
  }
}

}  // namespace

std::vector<DayTask> day_plan(const TrialPlan& plan) {
  std::vector<DayTask> tasks;
  for (std::size_t k = 0; k < std::max<std::size_t>(1, plan.applications.size()); ++k)
    add_day(plan, k, tasks);
  return tasks;
}

}  // namespace leastwise::trial
