#include "scenario/price_by_quantity.hpp"

#include <leastwise/scenario.hpp>

#include <algorithm>

#include "scenario/units.hpp"

namespace leastwise {

std::size_t tier_reached(const std::vector<PriceTier>& tiers, double tonnes) {
  constexpr double almost = 1 - 1e-9;
  std::size_t k = 0;
  while (k + 1 < tiers.size() && tonnes >= tiers[k + 1].from_t * almost) ++k;
  return k;
}

double price_by_quantity(const std::vector<PriceTier>& tiers, TierPrice price, double tonnes) {
  if (price == TierPrice::all || tonnes <= 0) return tiers[tier_reached(tiers, tonnes)].price_per_t;
  double cost = 0;
  for (std::size_t k = 0; k < tiers.size() && tiers[k].from_t < tonnes; ++k) {
    const double end = k + 1 < tiers.size() ? std::min(tonnes, tiers[k + 1].from_t) : tonnes;
    cost += (end - tiers[k].from_t) * tiers[k].price_per_t;
  }
  return cost / tonnes;
}

double Scenario::bought_t(double kg) const {
  return kg * make_hectares_.value_or(make_tonnes_.value_or(0)) / kg_per_tonne;
}

double Scenario::price_paid_per_t(std::size_t i, double kg) const {
  const Material& material = materials_[i];
  if (material.price_tiers.empty()) return material.price_per_t;
  return price_by_quantity(material.price_tiers, material.tier_price, bought_t(kg));
}

bool Scenario::has_price_tiers() const {
  return std::ranges::any_of(
      materials_, [](const Material& material) { return !material.price_tiers.empty(); });
}

}  // namespace leastwise
