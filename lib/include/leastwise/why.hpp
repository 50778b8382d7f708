#pragma once
#include <leastwise/known.hpp>
#include <leastwise/portion.hpp>
#include <leastwise/rule_id.hpp>

#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// What one rule of a blend pays for.
///
/// Each rule that binds has a price per kg of what it counts; that price times the kg, added up
/// over all rules, is the cost of the blend (the theorem of strong duality). A nutrient that is
/// there in surplus costs nothing, a maximum that binds has a price below 0.
struct CostPart {
  std::string rule{};  ///< its name in reports; `mass` for the tonne itself, whatever it holds
  std::optional<RuleId> id{};  ///< empty for `mass`
  double kg = 0;               ///< that the rule counts, per tonne or per hectare, by basis
  double price_per_kg = 0;     ///< currency per kg, at the margin
  double cost = 0;             ///< currency per tonne or per hectare, by basis
};

/// What one rule of the blend makes of a tonne of a material.
struct RuleWorth {
  std::string rule{};          ///< its name in reports, `mass` as in `CostPart`
  std::optional<RuleId> id{};  ///< empty for `mass`
  double worth_per_t = 0;  ///< currency per tonne of the material; below 0 where it is in the way
};

/// A material of the blend that another may not lie beside.
struct KeptApartFrom {
  std::string material{};  ///< in the blend
  std::string family{};    ///< its family
  std::string reason{};    ///< in one sentence
};

/// Why the blend takes so much of a material, or none.
struct WhyMaterial {
  std::string material{};    ///< its name
  bool used = false;         ///< the blend takes it
  double price_per_t = 0;    ///< as stated
  double freight_per_t = 0;  ///< as stated
  /// Price, freight, its binder and the fee: what a tonne of it adds to the cost.
  double cost_per_t = 0;
  std::string why{};                         ///< as `UnusedMaterial::why`; empty when it is used
  Known<double> enters_below_price_per_t{};  ///< none: at no price from zero up
  std::vector<RuleWorth> worth{};      ///< by the prices of the rules at this blend; largest first
  double worth_per_t = 0;              ///< the sum: what a tonne of it may cost at the margin
  std::vector<KeptApartFrom> apart{};  ///< what it may not lie beside in this blend
  double forced_percent = 1;           ///< of the product: what follows is about so much of it
  /// The cheapest blend that has at least so much of it. None: no blend has.
  Known<double> forced_cost{};             ///< currency per tonne or per hectare, by basis
  std::optional<double> forced_rise{};     ///< how much dearer that is; empty without one
  std::vector<Portion> forced_portions{};  ///< its recipe
  std::vector<std::string> conflict{};     ///< the rules for which no blend has so much
};

}  // namespace leastwise
