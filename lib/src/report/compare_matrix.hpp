#pragma once
#include <leastwise/compare.hpp>

#include "report/kit/page.hpp"

namespace leastwise::report {

/// Materials, prices of rules, salt index and acidity by line: a table each, with a column for each
/// recipe. Lines of one recipe share a column. Nothing where no line has a blend.
void write_recipes_side_by_side(Page& page, const Comparison& comparison);

}  // namespace leastwise::report
