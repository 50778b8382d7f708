#pragma once
#include <leastwise/scenario.hpp>
#include <leastwise/trial_plan.hpp>

#include <vector>

#include "trial/product.hpp"

namespace leastwise::trial {

/// What lies in a load, in kg; the vector runs along the materials of the scenario.
struct Contents {
  std::vector<double> kg{};
  double binder_kg = 0;
  double inert_kg = 0;  ///< a carrier that is no material of the scenario

  [[nodiscard]] double total_kg() const;
};

/// The load of a plan as it is weighed; a stock mix counts as what it holds.
[[nodiscard]] Contents contents_of(const Scenario& scenario, const std::vector<Weighing>& load,
                                   const std::vector<StockMix>& mixes);

/// Adds `kg` of what `weighing` weighs.
void add_contents(const Scenario& scenario, const Weighing& weighing, double kg,
                  const std::vector<StockMix>& mixes, Contents& contents);

/// Every nutrient that is asked for or there, as planned by `product` and as achieved when a load
/// of `contents` is spread at `product_kg_per_ha`. `load` tells what rounding could do; it may be
/// empty.
[[nodiscard]] std::vector<NutrientCheck> nutrient_checks(const Scenario& scenario,
                                                         const Product& product,
                                                         const Contents& contents,
                                                         double product_kg_per_ha,
                                                         const std::vector<Weighing>& load,
                                                         const std::vector<StockMix>& mixes);

/// Every rule of the scenario that a load by itself can break. A fixed recipe has no rules but the
/// limit on its coating.
[[nodiscard]] std::vector<RuleCheck> rule_checks(const Scenario& scenario, const Contents& contents,
                                                 double product_kg_per_ha, bool recipe);

[[nodiscard]] Verdict worst(const std::vector<RuleCheck>& rules);

}  // namespace leastwise::trial
