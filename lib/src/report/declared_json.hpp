#pragma once
#include <leastwise/declared_analysis.hpp>

#include "report/kit/json_values.hpp"

namespace leastwise::report {

/// `rules`, `contents`, `derived_from`, `notes`.
[[nodiscard]] Json json_declared(const DeclaredAnalysis& declared);

}  // namespace leastwise::report
