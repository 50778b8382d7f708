#pragma once
#include <leastwise/price_tier.hpp>

#include <string>
#include <vector>

#include "scenario/checks.hpp"

namespace leastwise {

/// Tonnes of a material that are bought.
inline constexpr Range bought_range{0,        largest_number, false,
                                    "tonnes", Measure::goods, "short tons"};

/// Prices by quantity, resolved.
struct TieredPrice {
  std::vector<PriceTier> tiers{};
  TierPrice tier_price = TierPrice::all;
};

/// Checks the price tiers of `material` at `path`. What is wrong is reported at the tier.
/// Returns: those before the first mistake.
[[nodiscard]] TieredPrice resolved_tiers(const std::vector<PriceTierDraft>& drafts,
                                         const std::string& path, const std::string& material,
                                         Units units, Checks& checks, DiagnosticSink& diagnostics);

}  // namespace leastwise
