#pragma once
#include <leastwise/leastwise.h>
#include <leastwise/formulate.hpp>

namespace leastwise::c {

/// The options of a call; the default for null. Throws: CallerFault for a negative time limit.
[[nodiscard]] FormulateOptions call_options(const leastwise_options* options);

}  // namespace leastwise::c
