#include "report/purchase_json.hpp"

namespace leastwise::report {

Json json_tier(const std::optional<PriceTier>& tier) {
  if (!tier) return nullptr;
  return {{"from_t", json_number(tier->from_t)}, {"price_per_t", json_number(tier->price_per_t)}};
}

std::string_view tier_price_word(TierPrice price) {
  return price == TierPrice::all ? "all" : "further";
}

Json json_purchase(const BlendPurchase& purchase) {
  return {
      {"material", purchase.material},
      {"tonnes", json_number(purchase.tonnes)},
      {"price_paid_per_t", json_number(purchase.price_paid_per_t)},
      {"price_of", purchase.tier ? Json(tier_price_word(purchase.tier_price)) : Json(nullptr)},
      {"tier", json_tier(purchase.tier)},
      {"next_tier", json_tier(purchase.next)},
      {"short_of_next_t", purchase.next ? json_number(purchase.short_of_next_t) : Json(nullptr)},
      {"saved_by_buying_up", json_number(purchase.saved_by_buying_up)},
      {"minimum_lot_t", json_number(purchase.minimum_lot_t)}};
}

}  // namespace leastwise::report
