#pragma once
#include <leastwise/material.hpp>

#include "chemistry/hazard/hazards.hpp"

namespace leastwise {

/// Adds what the stated contents tell: forms of nitrogen, nitrogen of no stated form, sulfur,
/// calcium and metals beyond what their salts and oxides hold, organic matter, copper.
void add_content_hazards(const Material& material, Nature& nature);

}  // namespace leastwise
