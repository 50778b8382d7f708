#pragma once
#include <leastwise/formulation.hpp>

#include "report/kit/page.hpp"

namespace leastwise::report {

/// What a unit of each nutrient that is asked for costs, by each material of the blend and in the
/// blend; nothing where none is asked for.
void write_nutrient_costs(Page& page, const Blend& blend);

}  // namespace leastwise::report
