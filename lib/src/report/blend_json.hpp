#pragma once
#include <leastwise/diagnostic.hpp>
#include <leastwise/formulation.hpp>

#include "report/kit/json_values.hpp"

namespace leastwise::report {

/// The report of the kind `blend`.
[[nodiscard]] Json json_formulation(const Formulation& answer);

/// One finding about rejected input.
[[nodiscard]] Json json_diagnostic(const Diagnostic& found);

}  // namespace leastwise::report
