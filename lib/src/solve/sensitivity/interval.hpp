#pragma once
#include <leastwise/known.hpp>

#include <optional>

#include "solve/sensitivity/limit_walk.hpp"
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

/// Finds the intervals of the shadow prices of one solution.
///
/// The limit of a rule is followed up and down until its price changes, another branch of the
/// either-or rules becomes cheaper, or no blend is left: from basis to basis, so that nothing is
/// sampled, and every stop is verified. What a limit, or rounding, keeps from being proved is not
/// computed.
class PriceIntervals {
 public:
  /// All must outlive it.
  PriceIntervals(const model::Model& model, const solver::SearchResult& solution,
                 const solver::SearchOptions& options)
      : solution_(solution), moving_(model, options) {}

  /// Of rule `r`, which costs `alternative` at most: what a blend outside the model costs.
  [[nodiscard]] PriceInterval of(std::size_t r, double price, double alternative = model::infinity);

 private:
  const solver::SearchResult& solution_;
  MovingModel moving_;
  std::optional<BasisProgram> program_{};  ///< once it is asked for
};

/// The interval of minimum if used `k`, whose price at the solution is `price`: beyond some
/// percentage it is cheaper to leave the material out.
[[nodiscard]] PriceInterval minimum_interval(const model::Model& model, std::size_t k, double price,
                                             const solver::SearchOptions& options);

}  // namespace leastwise::solve
