#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include "trial/product.hpp"

namespace leastwise::trial {

/// What `product` is made of, its grade and cost. `load` is one load with its mixes taken apart;
/// `loads` is how many there are.
[[nodiscard]] Recipe recipe_of(const Scenario& scenario, const Product& product,
                               const std::vector<Weighing>& load, std::size_t loads);

/// Adds what is sprayed on beside the product.
void add_sprayed(const Scenario& scenario, const std::vector<Spray>& sprays,
                 const std::vector<StockMix>& mixes, Recipe& recipe);

}  // namespace leastwise::trial
