#pragma once
#include <leastwise/formulation.hpp>

#include "report/kit/json_values.hpp"
#include "report/kit/page.hpp"

namespace leastwise::report {

/// How the blend acts and handles, where the scenario asks for it.
void write_indices(Page& page, const Blend& blend);
[[nodiscard]] Json json_indices(const BlendIndices& indices);

}  // namespace leastwise::report
