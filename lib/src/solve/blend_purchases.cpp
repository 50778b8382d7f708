#include "solve/blend_purchases.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "scenario/price_by_quantity.hpp"
#include "scenario/units.hpp"
#include "solve/answer.hpp"
#include "solve/answer_parts.hpp"

namespace leastwise::solve {
namespace {

/// Fills in the tier that is reached, and what the next one would take.
void add_tiers(const Material& material, BlendPurchase& purchase) {
  const auto& tiers = material.price_tiers;
  if (tiers.empty()) return;
  const std::size_t k = tier_reached(tiers, purchase.tonnes);
  purchase.tier = tiers[k];
  if (k + 1 == tiers.size()) return;
  const PriceTier& next = tiers[k + 1];
  purchase.next = next;
  purchase.short_of_next_t = next.from_t - purchase.tonnes;
  if (material.tier_price != TierPrice::all) return;
  const double paid = purchase.tonnes * (purchase.price_paid_per_t + material.freight_per_t);
  const double bought_up = next.from_t * (next.price_per_t + material.freight_per_t);
  purchase.saved_by_buying_up = std::max(0.0, paid - bought_up);
}

}  // namespace

BlendPurchase purchase_of(const Material& material, double tonnes) {
  BlendPurchase purchase;
  purchase.material = material.name;
  purchase.tonnes = tonnes;
  purchase.price_paid_per_t =
      material.price_tiers.empty()
          ? material.price_per_t
          : price_by_quantity(material.price_tiers, material.tier_price, tonnes);
  purchase.tier_price = material.tier_price;
  purchase.minimum_lot_t = material.minimum_lot_t;
  add_tiers(material, purchase);
  return purchase;
}

std::vector<BlendPurchase> purchases_of(const Scenario& scenario, const std::vector<double>& kg) {
  std::vector<BlendPurchase> purchases;
  for (std::size_t i = 0; i < kg.size(); ++i)
    if (kg[i] > 0 && is_bought_by_quantity(scenario.materials()[i]))
      purchases.push_back(purchase_of(scenario.materials()[i], scenario.bought_t(kg[i])));
  return purchases;
}

bool cost_is_confirmed(const Scenario& scenario, const Blend& blend, double cost) {
  if (!scenario.has_price_tiers()) return true;
  const double own = blend.total_kg_per_ha
                         ? blend.cost_per_t * *blend.total_kg_per_ha / kg_per_tonne
                         : blend.cost_per_t;
  double money = 1;
  for (const auto& portion : blend.portions)
    money += std::fabs(portion.cost_per_ha.value_or(portion.cost_per_t));
  return std::fabs(own - cost) <= same_cost * money;
}

}  // namespace leastwise::solve
