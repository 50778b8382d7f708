#pragma once
#include <leastwise/material.hpp>

#include <string>
#include <string_view>

#include "chemistry/hazard/hazards.hpp"

namespace leastwise {

/// Adds a family of the compatibility table, once; other names are left out.
void add_family(const std::string& family, Nature& nature);

/// Adds what the words of a name tell, and the formulas written in it, such as `KNO3 crystals`.
/// `what` is `name` or `family`, for the reason.
void add_name_hazards(const Material& material, std::string_view name, std::string_view what,
                      Nature& nature);

}  // namespace leastwise
