#pragma once
#include <leastwise/material.hpp>

#include <span>
#include <string>
#include <utility>

namespace leastwise {

/// Two families in alphabetical order, so that a pair has one spelling.
using FamilyPair = std::pair<std::string, std::string>;
[[nodiscard]] FamilyPair family_pair(const std::string& a, const std::string& b);

/// An oxidizer feeds a fire: its family is one in the table, or it holds nitrate nitrogen, or its
/// name or family says nitrate. Doubt counts as yes.
[[nodiscard]] bool is_oxidizer(const Material& material);

/// Fuel for an oxidizer: of the family of elemental sulfur, organic matter, chelates or coated
/// urea, or more sulfur than any sulfate, thiosulfate or sulfide fertilizer can hold (50 percent;
/// common practice, goods of elemental sulfur hold 85 percent and more).
[[nodiscard]] bool is_fuel(const Material& material);

/// Whether one of the two families is an oxidizer's and the other a fuel's. Families are known
/// from the built-in table and from `materials`.
[[nodiscard]] bool can_burn(const FamilyPair& pair, std::span<const Material> materials);

}  // namespace leastwise
