#pragma once
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>
#include <leastwise/progress.hpp>

#include <chrono>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace leastwise {

/// How long to search, and how much to find out.
struct FormulateOptions {
  /// Wall-clock limit for the whole call; nothing means none.
  std::optional<std::chrono::duration<double>> time_limit{};
  /// Ask from another thread to stop; the answer is then `StopCause::cancelled`.
  std::stop_token stop{};
  /// Also find what needs solving again: the interval in which each shadow price holds, whether
  /// it is unique, entry prices under either-or rules, what each exclusion costs, and the nearest
  /// blend of an infeasible scenario. Without it these fields stay empty and the call is faster.
  bool intervals = true;
  /// Materials of which the blend is to say why it takes none, or no more: `Blend::why`. Names that
  /// are none of the scenario's are passed over.
  std::vector<std::string> why{};
  /// Told how many linear programs are solved so far; in `plan_trial` how many treatments too.
  ProgressCallback progress{};
};

/// Finds the cheapest blend that obeys every rule of `scenario`.
///
/// Returns: always an answer; an impossible scenario is a `Conflict`, not an error.
/// Throws: std::bad_alloc only. `scenario` is valid by construction.
/// Thread safety: safe on any threads at once, including on the same scenario.
/// Deterministic: equal input gives bit-identical output.
[[nodiscard]] LEASTWISE_API Formulation formulate(const Scenario& scenario,
                                                  const FormulateOptions& options = {});

}  // namespace leastwise
