#include <string>
#include <utility>
#include <vector>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "scenario/builder.hpp"
#include "scenario/tier_checks.hpp"

namespace leastwise {

void ScenarioBuilder::resolve_purchase(const std::string& path,
                                       const std::vector<PriceTierDraft>& tiers,
                                       const std::optional<double>& lot_t, Material& material) {
  const std::string lot_path = below(path, "minimum_lot_t");
  if (lot_t && checks_.number(lot_path, "the minimum lot of material " + in_quotes(material.name),
                              *lot_t, bought_range)) {
    material.minimum_lot_t = lot_t;
    bought_.emplace_back(material.name, lot_path);
  }
  if (tiers.empty()) return;
  const std::string list = below(path, "price_tiers");
  bought_.emplace_back(material.name, list);
  auto [resolved, tier_price] =
      resolved_tiers(tiers, list, material.name, draft_.units, checks_, diagnostics_);
  if (resolved.empty()) return;
  material.price_per_t = resolved.front().price_per_t;
  material.price_tiers = std::move(resolved);
  material.tier_price = tier_price;
}

/// What is bought in all is known where it is known how much is made.
void ScenarioBuilder::check_purchases() {
  if (bought_.empty() || diagnostics_.touched("make")) return;
  const bool by_hectare = scenario_.basis_ == Basis::per_hectare;
  if (by_hectare ? draft_.make_hectares.has_value() : draft_.make_tonnes.has_value()) return;
  for (const auto& [material, path] : bought_)
    diagnostics_.error(
        codes::needs_make, path,
        "price tiers and minimum lots are of all that is bought, which takes make: {" +
            std::string(by_hectare ? "hectares: 40}" : "tonnes: 24}") + ", found " +
            (draft_.make_tonnes ? "tonnes of a product that is made by the hectare" : "none") +
            ", and one of material " + in_quotes(material));
}

}  // namespace leastwise
