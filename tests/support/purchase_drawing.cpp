#include "support/purchase_drawing.hpp"

#include <cmath>

#include "support/random.hpp"

namespace leastwise::support {

void draw_purchases(ScenarioDraft& draft, std::uint64_t seed, double total) {
  Random random(seed);
  const bool by_hectare = !draft.rates_kg_per_ha.empty();
  draft.make_tonnes.reset();
  draft.make_hectares.reset();
  const double make = 20 + std::floor(random.between(0, 100));
  (by_hectare ? draft.make_hectares : draft.make_tonnes) = make;
  draft.prices.clear();
  for (MaterialDraft& material : draft.materials) {
    material.stock_kg.reset();
    if (!material.price_per_t) material.price_per_t = 300;
    const double price = *material.price_per_t;
    const auto tonnes = [&](double share) { return share * total * make / 1000; };
    if (price > 0 && random.chance(0.6)) {
      const bool all = random.chance(0.6);
      double at = 0;
      double per_t = price;
      const int tiers = 2 + static_cast<int>(random.between(0, 2.99));
      for (int k = 0; k < tiers; ++k) {
        PriceTierDraft tier{{}, {}, per_t};
        (all ? tier.from_t : tier.beyond_t) = at;
        material.price_tiers.push_back(tier);
        at += tonnes(random.between(0.01, 0.2));
        per_t *= 1 + (all ? -1 : 1) * random.between(0.01, 0.12);
      }
      material.price_per_t.reset();
    }
    if (random.chance(0.3)) material.minimum_lot_t = tonnes(random.between(0.01, 0.25));
  }
}

}  // namespace leastwise::support
