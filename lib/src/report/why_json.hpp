#pragma once
#include <leastwise/formulation.hpp>

#include "report/kit/json_values.hpp"

namespace leastwise::report {

[[nodiscard]] Json json_why(const WhyMaterial& why);
[[nodiscard]] Json json_cost_part(const CostPart& part);
[[nodiscard]] Json json_nutrient_costs(const CostPerNutrient& costs, Units units);

}  // namespace leastwise::report
