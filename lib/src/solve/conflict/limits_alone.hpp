#pragma once
#include <leastwise/known.hpp>

#include <vector>

#include "solve/conflict/conflict.hpp"

namespace leastwise::solve {

/// The limits of one rule at which a conflict ends while its other rules are kept.
struct Alone {
  Known<double> below{};  ///< the nearest lower one; none: no lower limit ends it
  Known<double> above{};  ///< the nearest higher one
};

/// Where rule `constraint` alone would end `conflict`: a minimum below, a maximum above, an
/// equality on either side.
[[nodiscard]] Alone limits_alone(const model::Model& model, const std::vector<Constraint>& conflict,
                                 const Constraint& constraint,
                                 const solver::SearchOptions& options);

}  // namespace leastwise::solve
