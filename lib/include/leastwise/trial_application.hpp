#pragma once
#include <leastwise/limits.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace leastwise {

/// One round of spreading over the trial.
struct Application {
  std::string name{};   ///< required, unique: `planting`
  std::string on{};     ///< the day on which it is mixed and spread, `2026-06-01`; may be empty
  std::string stage{};  ///< of the crop, `V6`; may be empty
};

/// What an application gets of something that is split.
struct ApplicationShare {
  std::string application{};  ///< its name
  double percent = 0;         ///< of the whole
};

/// How the rate of something is spread over the applications.
struct SplitShares {
  std::string of{};  ///< `product`, a nutrient with a rate, or a material of a fixed recipe
  std::vector<ApplicationShare> shares{};  ///< sum to 100
};

/// A nutrient of a treatment over all its applications.
struct TotalNutrient {
  std::string nutrient{};                         ///< its name
  double planned_kg_per_ha = 0;                   ///< by the blends or recipes, before rounding
  double achieved_kg_per_ha = 0;                  ///< by the masses
  std::vector<double> each_kg_per_ha{};           ///< planned, along `TreatmentTotal::products`
  std::vector<double> each_achieved_kg_per_ha{};  ///< the same by the masses
  Limits asked_kg_per_ha{};                       ///< of the whole, if anything
};

/// A treatment over all its applications.
struct TreatmentTotal {
  std::string name{};                   ///< of the treatment
  std::string code{};                   ///< its code
  std::vector<std::size_t> products{};  ///< into `TrialPlan::treatments`, in order of application
  bool complete = false;                ///< every product is planned
  std::vector<TotalNutrient> nutrients{};  ///< sums over `products`
  double product_kg_per_ha = 0;            ///< the same of product
  double cost_per_ha = 0;                  ///< the same of money
};

}  // namespace leastwise
