#include "trial/rounding_repair.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <vector>

#include "trial/achieved.hpp"
#include "trial/loads_and_packs.hpp"
#include "trial/mixer_load.hpp"
#include "trial/solution.hpp"

namespace leastwise::trial {
namespace {

/// A rule is kept to within this, percent of its limit.
constexpr double tolerance_percent = 1;
constexpr int most_moves = 60;

/// How far the load misses the rule it misses most, percent of the limit; 0: it keeps all.
double worst_miss_percent(const TreatmentDraftPlan& draft, const TreatmentPlan& plan,
                          const std::vector<StockMix>& mixes) {
  double miss = 0;
  for (const auto& rule : rules_of_load(draft, plan, mixes))
    miss = std::max(miss, rule.missed_percent);
  return miss;
}

}  // namespace

std::vector<RuleCheck> rules_of_load(const TreatmentDraftPlan& draft, const TreatmentPlan& plan,
                                     const std::vector<StockMix>& mixes) {
  const Scenario& scenario = *draft.treatment->scenario;
  Contents contents = contents_of(scenario, plan.weighings, mixes);
  add_sprays(scenario, plan, mixes, contents);
  return rule_checks(scenario, contents, rate_on_plots(plan),
                     draft.treatment->kind == TreatmentKind::recipe);
}

void repair_rounding(const TreatmentDraftPlan& draft, const std::vector<StockMix>& mixes,
                     TreatmentPlan& plan) {
  double miss = worst_miss_percent(draft, plan, mixes);
  std::int64_t mass = mass_of_load(plan.weighings);
  std::vector<std::int64_t> rounded;
  for (const auto& weighing : plan.weighings) rounded.push_back(weighing.mass_mg);
  for (int move = 0; move < most_moves && miss > tolerance_percent; ++move) {
    Weighing* best = nullptr;
    std::int64_t best_step = 0;
    double best_miss = miss;
    for (std::size_t w = 0; w < rounded.size(); ++w) {
      Weighing& weighing = plan.weighings[w];
      for (const int sign : {1, -1}) {
        const std::int64_t step = sign * weighing.readability_mg;
        const std::int64_t moved = std::abs(weighing.mass_mg + step - rounded[w]);
        if (moved > weighing.readability_mg) continue;
        if (weighing.mass_mg + step <= 0 || mass + step < draft.share_mg) continue;
        weighing.mass_mg += step;
        const double now = worst_miss_percent(draft, plan, mixes);
        weighing.mass_mg -= step;
        if (now >= best_miss) continue;
        best = &weighing;
        best_step = step;
        best_miss = now;
      }
    }
    if (best == nullptr) return;
    best->mass_mg += best_step;
    mass += best_step;
    miss = best_miss;
  }
}

}  // namespace leastwise::trial
