#pragma once
#include <leastwise/progress.hpp>

#include <chrono>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

namespace leastwise {

/// How long a question may take, and how much a blend is to say.
struct SolveOptions {
  /// Wall-clock limit for the whole call; nothing means none.
  std::optional<std::chrono::duration<double>> time_limit{};
  /// Ask from another thread to stop; the answer is then `StopCause::cancelled`.
  std::stop_token stop{};
  /// `formulate` and what is made of its answer: also find what needs solving again: the interval
  /// in which each shadow price holds, whether it is unique, entry prices under either-or rules,
  /// what each exclusion costs, and the nearest blend of an infeasible scenario. Without it these
  /// fields stay empty and the call is faster.
  bool intervals = true;
  /// `formulate`: materials of which the blend is to say why it takes none, or no more:
  /// `Blend::why`. Names that are none of the scenario's are passed over.
  std::vector<std::string> why{};
  /// Told how far the call is: how many linear programs are solved, treatments planned or draws
  /// made.
  ProgressCallback progress{};
};

}  // namespace leastwise
