#pragma once
#include <leastwise/scenario.hpp>
#include <leastwise/trial_plan.hpp>

#include <vector>

#include "scenario/rules.hpp"
#include "trial/product.hpp"

namespace leastwise::trial {

/// What lies in a load, in kg; the vector runs along the materials of the scenario.
struct Contents {
  std::vector<double> kg{};
  double binder_kg = 0;
  double inert_kg = 0;  ///< a carrier that is no material of the scenario
  /// What is sprayed on beside the product, along the materials; empty: nothing.
  std::vector<double> sprayed_kg_per_ha{};

  [[nodiscard]] double total_kg() const;
};

/// The load of a plan as it is weighed; a stock mix counts as what it holds.
[[nodiscard]] Contents contents_of(const Scenario& scenario, const std::vector<Weighing>& load,
                                   const std::vector<StockMix>& mixes);

/// What is in a load by every rule. What is sprayed on beside it, `sprayed_kg` along the materials,
/// counts in rates and ratios and in what guards people and fields; grade, shares, coating and
/// total are those of the product.
[[nodiscard]] std::vector<rules::Achieved> measured_with_sprays(
    const Scenario& scenario, const rules::Amounts& amounts, const std::vector<double>& sprayed_kg);

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
