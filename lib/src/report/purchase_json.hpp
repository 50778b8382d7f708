#pragma once
#include <leastwise/formulation.hpp>

#include <optional>
#include <string_view>

#include "report/kit/json_values.hpp"

namespace leastwise::report {

/// `from_t`, `price_per_t`; null where there is none.
[[nodiscard]] Json json_tier(const std::optional<PriceTier>& tier);
/// `all`, `further`.
[[nodiscard]] std::string_view tier_price_word(TierPrice price);
/// What is bought of one material.
[[nodiscard]] Json json_purchase(const BlendPurchase& purchase);

}  // namespace leastwise::report
