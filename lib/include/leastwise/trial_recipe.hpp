#pragma once
#include <leastwise/export.h>

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What a material does in a load.
enum class Role {
  granule,    ///< part of the bulk
  powder,     ///< stuck to the granules
  binder,     ///< holds the powders
  dissolved,  ///< in no load: sprayed on the plots
};

/// The spelling used in reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Role role);

/// One material of a product, as planned: before anything is rounded to a balance.
struct RecipeLine {
  std::string material{};        ///< its name; `binder` for one without a name
  Role role = Role::granule;     ///< what it does in the product
  double kg_per_ha = 0;          ///< kg of it per hectare
  double percent = 0;            ///< of the product, by mass
  double price_per_t = 0;        ///< with freight
  double cost_per_ha = 0;        ///< of this material
  std::int64_t in_loads_mg = 0;  ///< what all loads of the treatment hold of it
};

/// A share of the product that its grade states.
struct GradePart {
  std::string nutrient{};  ///< `N`, `P2O5`, `K2O`, then others there are
  double percent = 0;      ///< of the product, by mass
};

/// What the product of a treatment is made of, per hectare and for the whole trial.
struct Recipe {
  std::vector<RecipeLine> lines{};  ///< granules, powders, binder; each largest first
  std::vector<GradePart> grade{};   ///< N, P2O5 and K2O always, then what else is in it
  double cost_per_ha = 0;           ///< materials, freight, binder and blending fee
  double cost_of_loads = 0;         ///< the same for all that is made, spare included
};

/// The rate of a nutrient in one treatment.
struct ComparedRate {
  std::size_t treatment = 0;      ///< into `TrialPlan::treatments`
  double planned_kg_per_ha = 0;   ///< before rounding; 0 where nothing is spread
  double achieved_kg_per_ha = 0;  ///< by the masses
  bool differs_unasked = false;   ///< differs from treatments that ask the same of this nutrient
};

/// One nutrient over all treatments that have a product or need none.
///
/// Treatments that ask the same of a nutrient (equal limits, or none) are held against one another.
/// One that is more than 1 % (and more than the impurities: 0.1 kg/ha, of a micronutrient 0.001)
/// off the rate that most of them have differs though nobody asks for it: what the field shows may
/// then be due to this nutrient. Fixed recipes and controls are what the file says they are, and
/// are listed without being judged.
struct ComparedNutrient {
  std::string nutrient{};             ///< its name
  std::vector<ComparedRate> rates{};  ///< in the order of the treatments
  bool held = false;                  ///< the trial holds it equal
  bool differs_unasked = false;       ///< in any treatment
};

/// Plots of one treatment, site and size: rate x area x plots is their mass, to be checked by hand.
struct PlotGroup {
  std::size_t site = 0;      ///< into `TrialPlan::sites`
  std::size_t plots = 0;     ///< how many
  double area_m2 = 0;        ///< of each
  std::int64_t pack_mg = 0;  ///< what each gets, in one or more containers
};

}  // namespace leastwise
