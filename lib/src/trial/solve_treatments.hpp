#pragma once
#include <leastwise/formulate.hpp>
#include <leastwise/trial_plan.hpp>

#include <chrono>
#include <cstddef>
#include <utility>
#include <vector>

#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// How long the whole plan may take, and what is to be told.
class SolveClock {
 public:
  explicit SolveClock(SolveOptions options)
      : options_(std::move(options)), start_(std::chrono::steady_clock::now()) {
    explain_ = options_.intervals;
    options_.intervals = false;
  }

  /// Whether the nearest blend of a treatment without one is wanted.
  [[nodiscard]] bool explain() const { return explain_; }
  /// What is left of the time.
  [[nodiscard]] SolveOptions options() const;
  void tell(std::size_t done, std::size_t of) const;

 private:
  SolveOptions options_;
  std::chrono::steady_clock::time_point start_;
  bool explain_ = true;
};

/// Finds what each treatment spreads: solves it, takes its recipe, or nothing. Where the trial
/// holds rates equal, the treatments that have a blend by themselves are then solved together;
/// `plan` says how that went.
void solve_treatments(const Trial& trial, const SolveClock& clock,
                      std::vector<TreatmentDraftPlan>& drafts, TrialPlan& plan);

}  // namespace leastwise::trial
