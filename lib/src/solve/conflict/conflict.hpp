#pragma once
#include <leastwise/known.hpp>

#include <cstddef>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::insight {

/// One thing of a model that can be dropped to end a conflict.
struct Demand {
  enum class Kind { rule, minimum_if_used, apart, bins };
  Kind kind = Kind::rule;
  std::size_t index = 0;
};

/// Everything of `model` that a user asked for and could take back.
[[nodiscard]] std::vector<Demand> demands_of(const model::Model& model);

/// `model` with only `kept` in force.
[[nodiscard]] model::Model keep_only(const model::Model& model, const std::vector<Demand>& kept);

struct Irreducible {
  std::vector<Demand> demands{};
  bool irreducible = false;  ///< true: dropping any one of them makes the rest possible
};

/// Shrinks all demands of an infeasible `model` to a set that still conflicts and of which none
/// can be spared (deletion filter; each verdict of the search is proved).
[[nodiscard]] Irreducible irreducible_conflict(const model::Model& model,
                                               const solver::SearchOptions& options);

/// The limits of one rule at which a conflict ends while its other rules are kept.
struct Alone {
  Known<double> below{};  ///< the nearest lower one; none: no lower limit ends it
  Known<double> above{};  ///< the nearest higher one
};

/// Where rule `demand` alone would end `conflict`: a minimum below, a maximum above, an equality on
/// either side.
[[nodiscard]] Alone limits_alone(const model::Model& model, const std::vector<Demand>& conflict,
                                 const Demand& demand, const solver::SearchOptions& options);

/// A limit to move.
struct Relaxation {
  std::size_t rule = 0;
  /// The new limit: six significant digits, rounded to the generous side. An equality has none and
  /// keeps all digits.
  double limit = 0;
};

/// A small total relative change of limits that makes a model possible, either-or rules kept.
struct NearestLimits {
  /// None: no change of limits is enough.
  Known<std::vector<Relaxation>> changes{};
  bool least = false;  ///< no smaller change is enough
};

/// Least where rows do not drift with their limits. Elsewhere what a change weighs depends on the
/// blend: the weights are found by repeating and then along the total, and no smaller change may
/// have been seen without being the least.
[[nodiscard]] NearestLimits nearest_limits(const Scenario& scenario, const model::Model& model,
                                           const solver::SearchOptions& options);

}  // namespace leastwise::insight
