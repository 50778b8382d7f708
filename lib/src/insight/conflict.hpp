#pragma once
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

/// How far rule `demand` alone must give way, in the user's units, for `conflict` to be possible.
/// Returns: infinity when no change of its limit is enough.
[[nodiscard]] double shortfall(const model::Model& model, const std::vector<Demand>& conflict,
                               const Demand& demand, const solver::SearchOptions& options);

/// A limit to move.
struct Relaxation {
  std::size_t rule = 0;
  double limit = 0;  ///< the new limit, six significant digits, rounded to the generous side
};

/// The least total relative change of limits that makes `model` possible, either-or rules kept.
///
/// Exact where rows do not drift with their limits; elsewhere the weights use the blend's own
/// total, found by repeating. Returns: nothing when no change of limits is enough.
[[nodiscard]] std::vector<Relaxation> nearest_limits(const Scenario& scenario,
                                                     const model::Model& model,
                                                     const solver::SearchOptions& options);

}  // namespace leastwise::insight
