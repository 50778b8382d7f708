#pragma once
#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// What a kg of one nutrient costs when it is bought as one material.
///
/// Price and freight over the content: the whole price is laid on this nutrient, and the others of
/// the material come free. Urea at 460 per t with 46 % N: 460 / (1000 x 0.46) = 1.00 per kg of N.
struct MaterialNutrientCost {
  std::string material{};      ///< its name
  bool used = false;           ///< the blend takes it
  std::string nutrient{};      ///< the one by which the price is counted
  double content_percent = 0;  ///< of it in the material, by mass
  double price_per_kg = 0;     ///< currency per kg of the nutrient
};

/// What the blend pays for one nutrient, by the prices of the rules that ask for it.
struct BlendNutrientCost {
  std::string nutrient{};   ///< its name
  double kg = 0;            ///< all of it in the blend, per tonne or per hectare, by basis
  double price_per_kg = 0;  ///< `cost` over `kg`; 0 for what comes free with others
  double cost = 0;          ///< currency per tonne or per hectare, by basis
};

/// Cost per nutrient: of each nutrient for which the scenario states a minimum or an exact amount.
struct CostPerNutrient {
  std::vector<MaterialNutrientCost> materials{};  ///< of a nutrient the cheapest first
  std::vector<BlendNutrientCost> blend{};  ///< empty where the parts do not add up to the cost
  /// What no nutrient pays for: mass, shares and other rules. With `blend` it adds up to the cost;
  /// empty where the parts do not.
  std::optional<double> rest{};
};

}  // namespace leastwise
