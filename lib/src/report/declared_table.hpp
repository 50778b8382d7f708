#pragma once
#include <leastwise/declared_analysis.hpp>

#include "report/kit/page.hpp"

namespace leastwise::report {

/// What a label could say, with the minima and tolerances of its rules.
void write_declared(Page& page, const DeclaredAnalysis& declared);

}  // namespace leastwise::report
