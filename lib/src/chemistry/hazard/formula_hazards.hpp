#pragma once
#include <string_view>

#include "chemistry/hazard/hazards.hpp"

namespace leastwise {

/// Adds what a formula tells, from its groups and from the balance of its oxidation numbers, so
/// that `NH4NO3` and `H4N2O3` are one. Sets `known`. A formula that cannot be read tells nothing.
void add_formula_hazards(std::string_view formula, Nature& nature);

/// The family that a formula makes clear; empty when it does not.
[[nodiscard]] std::string family_of_formula(std::string_view formula);

}  // namespace leastwise
