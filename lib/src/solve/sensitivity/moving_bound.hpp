#pragma once
#include <algorithm>
#include <cstddef>
#include <vector>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// A bound that moves with a limit, and how the coefficients of its row do.
struct MovingBound {
  int row = -1;
  int column = -1;  ///< when it is a bound on a column (then `row` is -1)
  RuleSide side = RuleSide::exactly;
  double rate = 0;                        ///< the bound is the limit times this
  double other_lower = -model::infinity;  ///< what else holds the variable
  double other_upper = model::infinity;
  std::vector<model::Entry> drift{};
};

/// The bounds that rule `r` of `model`, and its pair, move in a branch of the either-or rules.
[[nodiscard]] std::vector<MovingBound> moving_bounds(const model::Model& model, std::size_t r,
                                                     const std::vector<solver::Decision>& path);

/// How fast the bounds of one variable move, and how far off that changes.
struct BoundMotion {
  double lower_rate = 0;
  double upper_rate = 0;
  double until = model::infinity;  ///< change of the limit, in the direction of the walk
  bool crossing = false;           ///< there they cross

  void stop_at(double distance, double speed, bool cross) {
    const double change = std::max(distance, 0.0) / speed;
    if (change > until || (change == until && !cross)) return;
    until = change;
    crossing = cross;
  }
};

/// Of `moving` at `limit`, which goes on in `direction`, 1 or -1.
[[nodiscard]] BoundMotion motion_of(const MovingBound& moving, double limit, int direction);

}  // namespace leastwise::solve
