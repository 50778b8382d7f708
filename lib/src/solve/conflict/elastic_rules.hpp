#pragma once
#include <vector>

#include "model/model.hpp"

namespace leastwise::solve {

/// A rule's own surplus column in the elastic program, and what a kg of it means to the user.
struct Surplus {
  std::size_t rule = 0;
  int column = 0;
  double sign = 1;  ///< +1: lowers the limit, -1: raises it
};

/// Adds to every rule of `elastic` a surplus that relaxes it; rules on columns become rows first.
/// Guards keep their limits.
[[nodiscard]] std::vector<Surplus> make_elastic(model::Model& elastic);

/// User's units per unit of surplus in the rule's row, at blend `x`; 0 where no other limit would
/// help, as for the coating of powders when there is no granule.
[[nodiscard]] double user_units(const model::Rule& rule, const std::vector<double>& x);

/// What a change of the rule's limit is relative to: the limit, or 1 where that is 0.
[[nodiscard]] double size_of(const model::Rule& rule);

/// The sum of relative changes of limits that `x` stands for; infinite where no limits let it in.
[[nodiscard]] double relative_change(const model::Model& elastic,
                                     const std::vector<Surplus>& surplus,
                                     const std::vector<double>& x);

}  // namespace leastwise::solve
