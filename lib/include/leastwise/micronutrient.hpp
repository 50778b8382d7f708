#pragma once
#include <leastwise/export.h>
#include <leastwise/material.hpp>

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// How a micronutrient comes to the field.
enum class Placement {
  coated,    ///< as a powder on all granules of a blend
  granular,  ///< in granules of a blend
  soil,      ///< the largest dressings, broadcast for several years
};

/// What is usually spread of a micronutrient.
///
/// Units: kg of the element per hectare.
struct UsualRate {
  double from = 0;       ///< less may show no effect
  double to = 0;         ///< more may harm
  std::string source{};  ///< where the figures come from
};

/// What the built-in tables know of a micronutrient.
struct Micronutrient {
  std::string element{};            ///< `B`
  std::string name{};               ///< `boron`
  double carried_from_percent = 0;  ///< a material with so much of it is a carrier of it
  double granular_factor = 1;       ///< how many times its coated rate a granule must supply
  double ceiling_kg_per_ha = 0;     ///< no blend brings more unless the scenario confirms it
  UsualRate coated{};               ///< as a powder on all granules
  UsualRate granular{};             ///< in granules of a blend
  UsualRate soil{};                 ///< the largest dressings
  std::string source{};             ///< of what is no rate

  /// The rates of one placement.
  [[nodiscard]] LEASTWISE_API const UsualRate& usual(Placement placement) const;
};

/// B, Cu, Zn, Mn, Fe, Mo, Co, Ni and Se. Typical figures: local advice goes before them.
[[nodiscard]] LEASTWISE_API std::span<const Micronutrient> micronutrients();

/// The row of `element`; null for what is no micronutrient.
[[nodiscard]] LEASTWISE_API const Micronutrient* find_micronutrient(std::string_view element);

/// The micronutrients for whose sake `material` is bought; empty for what holds traces only.
///
/// A material carries an element from the content on at which the law calls a fertilizer one of
/// that element (lib/data/micronutrients.csv). One that feeds a crop first of all with N, P2O5,
/// K2O, S or MgO, and brings no more of any micronutrient than is usual with a usual dressing of
/// these, is a macronutrient fertilizer and carries none: NP granules with 1 % Zn, sulfur with 2 %
/// Zn, kieserite with 0.5 % B. `micronutrient_granule: true` makes any material a carrier of what
/// it holds.
[[nodiscard]] LEASTWISE_API std::vector<std::string_view> carried_micronutrients(
    const Material& material);

}  // namespace leastwise
