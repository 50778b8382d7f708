#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/solve_options.hpp>

#include <optional>
#include <string>

namespace leastwise {

/// How a question that takes many solves ended.
struct Outcome {
  /// `optimal`: complete; `infeasible`: no blend obeys every rule, see `conflict`; `stopped`: what
  /// is there is proved, the rest is missing.
  Status status = Status::stopped;
  std::optional<Conflict> conflict{};        ///< when infeasible
  StopCause cause = StopCause::numerical;    ///< when stopped
  std::string detail = "nothing was asked";  ///< for a person: why it stopped
};

}  // namespace leastwise
