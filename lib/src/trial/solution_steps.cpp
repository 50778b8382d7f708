#include "trial/solution_steps.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

#include "trial/mass.hpp"
#include "trial/mix_steps.hpp"
#include "trial/solution.hpp"

namespace leastwise::trial {
namespace {

/// More solution than this, and more than twice what is needed, is not made: a stronger one is.
constexpr double most_in_vain_mg = 0.5 * mg_per_kg;

/// `row` and water that thins it from `from` to `to`, by mass.
MixStep thinned(std::span<const Balance> balances, MixWeighing row, double from, double to) {
  MixStep step;
  const double water_mg = static_cast<double>(row.mass_mg) * (from / to - 1);
  step.weighings.push_back(std::move(row));
  step.weighings.push_back(mix_weighing_of(balances, std::string(water), water_mg, false));
  for (const auto& weighing : step.weighings) step.mass_mg += weighing.mass_mg;
  return step;
}

double fraction_after(const MixStep& step, double before) {
  return before * static_cast<double>(step.weighings.front().mass_mg) /
         static_cast<double>(step.mass_mg);
}

}  // namespace

void make_solution(std::span<const Balance> balances, const SolutionWish& wish, StockMix& mix) {
  const double powder_mg = wish.needed_mg * wish.fraction;
  const double weighed_mg = std::max(powder_mg, ample_mass_mg(balances, powder_mg));
  const double made_mg = weighed_mg / wish.fraction;
  MixWeighing powder = mix_weighing_of(balances, wish.material, weighed_mg, true);
  const std::int64_t all_powder_mg = powder.mass_mg;
  if (made_mg <= std::max(2 * wish.needed_mg, most_in_vain_mg)) {
    mix.steps.push_back(thinned(balances, std::move(powder), 1, wish.fraction));
  } else {
    // So strong that enough of it is weighed, and no stronger than it dissolves well.
    const double least = ample_mass_mg(balances, powder_mg / wish.most_fraction);
    const double strong = std::min(wish.most_fraction, powder_mg / least);
    mix.steps.push_back(thinned(balances, std::move(powder), 1, strong));
    const double reached = fraction_after(mix.steps.front(), 1);
    MixWeighing earlier =
        mix_weighing_of(balances, mix.code + " step 1", powder_mg / reached, true);
    earlier.earlier_mix = true;
    mix.steps.push_back(thinned(balances, std::move(earlier), reached, wish.fraction));
  }
  double fraction = 1;
  std::int64_t water_mg = 0;
  for (const auto& step : mix.steps) {
    fraction = fraction_after(step, fraction);
    water_mg += step.weighings.back().mass_mg;
  }
  mix.mass_mg = mix.steps.back().mass_mg;
  mix.carrier = water;
  mix.solution = true;
  mix.parts = {{wish.material, fraction, false, all_powder_mg, 0},
               {std::string(water), 1 - fraction, true, water_mg, 0}};
}

}  // namespace leastwise::trial
