#include <leastwise/trial_factorial.hpp>

#include <algorithm>

#include "base/text/wording.hpp"

namespace leastwise {
namespace {

std::string level_text(const Limits& level) {
  if (level.exact()) return number_text(level.min);
  if (level.has_min() && level.has_max()) {
    return number_text(level.min) + "-" + number_text(level.max);
  }
  return level.has_min() ? number_text(level.min) + "+" : "-" + number_text(level.max);
}

}  // namespace

std::vector<FactorialCell> factorial_cells(std::span<const Factor> factors) {
  if (factors.empty()) return {};
  std::vector<FactorialCell> cells{FactorialCell{}};
  for (const auto& factor : factors) {
    std::vector<FactorialCell> wider;
    for (const auto& cell : cells) {
      for (const auto& level : factor.levels_kg_per_ha) {
        FactorialCell next = cell;
        if (!next.name.empty()) next.name += ' ';
        next.name += factor.nutrient + level_text(level);
        next.rates_kg_per_ha.push_back({factor.nutrient, level});
        wider.push_back(std::move(next));
      }
    }
    cells = std::move(wider);
  }
  return cells;
}

void set_rates(ScenarioDraft& draft, const FactorialCell& cell) {
  for (const auto& rate : cell.rates_kg_per_ha) {
    auto& rates = draft.rates_kg_per_ha;
    const auto found = std::find_if(rates.begin(), rates.end(), [&](const TargetDraft& target) {
      return target.nutrient == rate.nutrient;
    });
    if (found == rates.end()) {
      rates.push_back(rate);
    } else {
      found->limits = rate.limits;
    }
  }
}

}  // namespace leastwise
