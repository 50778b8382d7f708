#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/progress.hpp>

#include <chrono>
#include <optional>
#include <stop_token>
#include <string>

namespace leastwise {

/// How a question that takes many solves ended.
struct Ending {
  /// `optimal`: complete; `infeasible`: no blend obeys every rule, see `conflict`; `stopped`: what
  /// is there is proved, the rest is missing.
  Status status = Status::stopped;
  std::optional<Conflict> conflict{};        ///< when infeasible
  StopCause cause = StopCause::numerical;    ///< when stopped
  std::string detail = "nothing was asked";  ///< for a person: why it stopped
};

/// How long such a question may take.
struct SolveLimits {
  std::optional<std::chrono::duration<double>> time_limit{};  ///< for the whole call
  std::stop_token stop{};                                     ///< ask from another thread to stop
  ProgressCallback progress{};                                ///< told how far it is
};

}  // namespace leastwise
