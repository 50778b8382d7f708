#pragma once
#include <leastwise/trial.hpp>

#include <cstdint>

namespace leastwise::trial_test {

/// A random but realistic trial: blends, fixed recipes and controls on one to four sites, with
/// balances from 0.01 g to 50 g, mixers in kg or litres, and containers or none. The same for the
/// same seed on every platform.
[[nodiscard]] TrialDraft random_trial(std::uint64_t seed);

}  // namespace leastwise::trial_test
