#pragma once
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>
#include <leastwise/solve_options.hpp>

namespace leastwise {

/// Finds the cheapest blend that obeys every rule of `scenario`.
///
/// Returns: always an answer; an impossible scenario is a `Conflict`, not an error.
/// Throws: std::bad_alloc only. `scenario` is valid by construction.
/// Thread safety: safe on any threads at once, including on the same scenario.
/// Deterministic: equal input gives bit-identical output.
[[nodiscard]] LEASTWISE_API Formulation formulate(const Scenario& scenario,
                                                  const SolveOptions& options = {});

}  // namespace leastwise
