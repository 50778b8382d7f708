#pragma once
#include <cstddef>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// One thing of a model that can be dropped to end a conflict.
struct Constraint {
  enum class Kind { rule, minimum_if_used, apart, bins };
  Kind kind = Kind::rule;
  std::size_t index = 0;
};

enum class Possible { yes, no, unknown };

/// Whether any blend obeys `model`; costs do not matter.
[[nodiscard]] Possible possible(const model::Model& model, const solver::SearchOptions& options);

/// Everything of `model` that a user asked for and could take back.
[[nodiscard]] std::vector<Constraint> constraints_of(const model::Model& model);

/// `model` with only `kept` in force.
[[nodiscard]] model::Model keep_only(const model::Model& model,
                                     const std::vector<Constraint>& kept);

struct Irreducible {
  std::vector<Constraint> constraints{};
  bool irreducible = false;  ///< true: dropping any one of them makes the rest possible
};

/// Shrinks all constraints of an infeasible `model` to a set that still conflicts and of which none
/// can be spared (deletion filter; each verdict of the search is proved).
[[nodiscard]] Irreducible irreducible_conflict(const model::Model& model,
                                               const solver::SearchOptions& options);

}  // namespace leastwise::solve
