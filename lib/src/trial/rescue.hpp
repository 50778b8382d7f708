#pragma once
#include <leastwise/trial_check.hpp>

namespace leastwise::trial {

/// How a batch that breaks a rule can be saved: what to add, or that it must be discarded. It can
/// be where the mixer holds the larger load, stock mixes have enough left, and the rules hold
/// again.
[[nodiscard]] Rescue rescue_of(const Trial& trial, const TrialPlan& plan, std::size_t treatment,
                               const std::vector<StockMix>& mixes, const BatchCheck& check);

}  // namespace leastwise::trial
