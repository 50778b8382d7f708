#pragma once
#include <leastwise/export.h>
#include <leastwise/outcome.hpp>
#include <leastwise/proof.hpp>

#include <string>
#include <string_view>

namespace leastwise {

/// What a checked proof shows.
enum class ProofVerdict {
  proved_optimal,      ///< exactly: no blend is cheaper
  proved_within_1e_9,  ///< no blend is cheaper by more than a billionth of the cost
  proved_infeasible,   ///< no blend obeys every rule
  not_proved,          ///< `detail` says what is wrong
  stopped,             ///< by a limit, before it was known what it shows
};

/// `proved optimal`, `proved within 1e-9`, `proved infeasible`, `not proved`,
/// `stopped`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(ProofVerdict verdict);

/// What checking a proof came to.
struct Verification {
  ProofVerdict verdict = ProofVerdict::not_proved;  ///< what it shows
  std::string detail{};  ///< what is wrong, in plain words; empty when it is proved
  StopCause cause = StopCause::numerical;  ///< when stopped
};

/// Checks a proof against the scenario, trusting neither the proof nor what made it.
///
/// Every rule is rebuilt from the scenario and everything is recomputed in exact fractions; no code
/// of the solver, the model or the search takes part. `limits` end it early, with `stopped`; its
/// progress counts `cases`.
/// Throws: std::bad_alloc only. Thread safety: safe on any threads.
[[nodiscard]] LEASTWISE_API Verification verify(const Proof& proof, const Scenario& scenario,
                                                const SolveOptions& limits = {});

}  // namespace leastwise
