#pragma once
#include <leastwise/formulation.hpp>

#include "report/kit/page.hpp"

namespace leastwise::report {

/// Why the blend takes none, or no more, of the materials asked about; nothing when none was.
void write_why(Page& page, const Blend& blend);

}  // namespace leastwise::report
