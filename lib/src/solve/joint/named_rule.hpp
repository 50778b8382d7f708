#pragma once
#include <leastwise/formulation.hpp>

#include <cstddef>
#include <vector>

#include "model/join.hpp"
#include "solve/conflict/conflict.hpp"

namespace leastwise::solve {

/// A block of a joined model: what it was made of, and which it is.
struct NamedBlock {
  const Scenario& scenario;
  const model::Model& own;  ///< the block's model, as it was joined
  std::size_t number = 0;
  bool in_trial = false;  ///< who made the scenario does not stand over the mixer
};

/// The block whose rule or either-or rule `constraint` is; it must be none of a link or shared
/// limit.
[[nodiscard]] std::size_t block_of(const model::Joined& joined, const Constraint& constraint);

/// Fills in how far the limit of rule `constraint` alone must change to end `conflict`.
void add_shortfall(const model::Model& joined, const std::vector<Constraint>& conflict,
                   const Constraint& constraint, const solver::SearchOptions& search,
                   ConflictingRule& rule);

/// The rule of `block` that is `constraint` in the joined model, named as its scenario names it,
/// with how far it alone must change to end `conflict`.
[[nodiscard]] ConflictingRule named_rule(const model::Joined& joined, const NamedBlock& block,
                                         const std::vector<Constraint>& conflict,
                                         const Constraint& constraint,
                                         const solver::SearchOptions& search);

}  // namespace leastwise::solve
