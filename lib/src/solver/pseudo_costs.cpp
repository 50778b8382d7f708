#include "solver/pseudo_costs.hpp"

#include <algorithm>

namespace leastwise::solver {

void PseudoCosts::update(std::size_t column, bool up, double moved, double rise) {
  if (!(moved > 0)) return;
  const double gain = std::max(rise, 0.0) / moved;
  for (Side* side : {&sides_[2 * column + (up ? 1 : 0)], &all_}) {
    side->sum += gain;
    ++side->count;
  }
}

double PseudoCosts::gain(const Side& side) const {
  if (side.count > 0) return side.sum / static_cast<double>(side.count);
  return all_.sum > 0 ? all_.sum / static_cast<double>(all_.count) : 1.0;
}

double PseudoCosts::score(std::size_t column, double part) const {
  // A side that costs nothing must not hide what the other one costs.
  const double little = 1e-3 * (all_.sum > 0 ? all_.sum / static_cast<double>(all_.count) : 1.0);
  const double down = std::max(gain(sides_[2 * column]) * part, little * part);
  const double up = std::max(gain(sides_[2 * column + 1]) * (1 - part), little * (1 - part));
  return down * up;
}

}  // namespace leastwise::solver
