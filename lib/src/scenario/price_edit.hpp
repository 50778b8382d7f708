#pragma once
#include <leastwise/scenario.hpp>

namespace leastwise {

/// Changes prices of a scenario in place, where copying it for each would take longer than what is
/// then asked. The draft keeps the old prices.
class PriceEdit {
 public:
  explicit PriceEdit(Scenario& scenario) : scenario_(scenario) {}

  /// Returns: the position of `material`. Throws: as `Scenario::with_price`.
  [[nodiscard]] static std::size_t checked(const Scenario& scenario, std::string_view material,
                                           double price_per_t);
  void set(std::size_t position, double price_per_t) {
    scenario_.materials_[position].price_per_t = price_per_t;
    scenario_.materials_[position].price_tiers.clear();
    scenario_.cost_per_kg_[position] = scenario_.cost_of(position);
  }

 private:
  Scenario& scenario_;
};

}  // namespace leastwise
