#pragma once
#include <leastwise/trial_check.hpp>

#include <span>
#include <vector>

namespace leastwise::trial {

/// What a list of weighed masses says of the stock mixes.
struct WeighedMixes {
  std::vector<StockMix> mixes{};       ///< of the plan; what was weighed counts where it is whole
  std::vector<MixCheck> checks{};      ///< of the steps that were weighed
  std::vector<const Weighed*> rest{};  ///< the lines of batches
  std::vector<Diagnostic> diagnostics{};  ///< a step that is not whole, or has a stranger in it
};

/// Takes the lines of stock mixes out of a list.
[[nodiscard]] WeighedMixes weighed_mixes(const TrialPlan& plan, std::span<const Weighed> weighed);

}  // namespace leastwise::trial
