#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "trial/plots.hpp"
#include "trial/product.hpp"
#include "trial/stock_mix.hpp"

namespace leastwise::trial {

/// One treatment on its way to a plan.
struct TreatmentDraftPlan {
  const Treatment* treatment = nullptr;
  std::optional<Product> asked{};                ///< as solved or stated; nothing for a control
  Product solid{};                               ///< the same, without what is dissolved
  Product product{};                             ///< and with the carriers of its mixes
  std::vector<std::size_t> dissolved{};          ///< materials that are sprayed on instead
  std::vector<std::vector<PlotSpray>> sprays{};  ///< along `plots`; empty: none
  std::vector<MixUse> uses{};                    ///< of stock mixes
  std::vector<std::size_t> plots{};              ///< into `TrialPlan::plots`
  std::vector<Packing> packings{};               ///< along `plots`
  /// Along `plots`, where loads hold whole packs: the load of each. Empty: packs cross loads.
  std::vector<std::size_t> load_of_plot{};
  std::int64_t share_mg = 0;  ///< the least that a load must weigh
};

}  // namespace leastwise::trial
