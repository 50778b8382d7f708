#pragma once
#include <leastwise/known.hpp>

#include <optional>

#include "solve/sensitivity/moving_model.hpp"
#include "solve/shadow_price.hpp"

namespace leastwise::solve {

/// Where one shadow price holds, and what follows on either side.
struct PriceInterval {
  Known<double> from{};          ///< none: no end below
  Known<double> to{};            ///< none: no end above
  Known<double> price_below{};   ///< just below the limit; none: no blend there
  Known<double> price_above{};   ///< just above the limit; none: no blend there
  std::optional<bool> unique{};  ///< both sides show the same price; empty while one is not known
};

/// Follows the limit of rule `r` of a model up and down from `solution` until its price changes,
/// another branch of the either-or rules becomes cheaper, or no blend is left. Every step is a
/// proven solution of the changed program; between steps one basis is optimal, so nothing is
/// sampled. What a limit, or rounding, keeps from being proved is not computed.
[[nodiscard]] PriceInterval price_interval(MovingModel& moving, std::size_t r,
                                           const solver::SearchResult& solution);

/// The same for minimum if used `k`, whose price at `solution` is `price`: beyond some percentage
/// it is cheaper to leave the material out.
[[nodiscard]] PriceInterval minimum_interval(const model::Model& model, std::size_t k, double price,
                                             const solver::SearchOptions& options);

}  // namespace leastwise::solve
