#include "solve/sensitivity/entry_price.hpp"

#include <algorithm>
#include <cmath>

#include "solver/certificate.hpp"

namespace leastwise::solve {

Known<double> entry_cost_per_kg(const model::Model& model, int column,
                                const solver::SearchResult& solution, double floor,
                                const solver::SearchOptions& options) {
  const auto j = static_cast<std::size_t>(column);
  model::Model changed = model;
  solver::SearchOptions cheaper_only = options;
  const double size = std::max(1.0, std::fabs(solution.cost));
  cheaper_only.cutoff = solution.cost - 1e-9 * size;
  double price = floor;
  auto entry = Known<double>::none();
  for (int step = 0; step < 60; ++step) {
    changed.cost[j] = price;
    const auto found = solver::search(changed, cheaper_only);
    if (found.status == solver::SearchStatus::infeasible) return entry;
    if (found.status != solver::SearchStatus::optimal) return {};
    if (found.x[j] <= 0) return entry;
    const double break_even = price + (solution.cost - found.cost) / found.x[j];
    if (entry && break_even <= *entry + 1e-10 * std::max(1.0, std::fabs(*entry))) return entry;
    entry = break_even;
    price = break_even;
  }
  return {};
}

Known<double> entry_cost_of_first(BasisProgram& program, int column,
                                  const solver::SearchResult& solution,
                                  const solver::SearchOptions& options) {
  const auto j = static_cast<std::size_t>(column);
  double mass = 0;
  for (const double v : solution.x) mass = std::max(mass, std::fabs(v));
  const MovingBound held{.column = column,
                         .rate = mass,
                         .other_lower = solution.leaf.lower[j],
                         .other_upper = solution.leaf.upper[j]};
  LimitWalk walk(program, {held}, 0, 1, options);
  if (const auto first = walk.next()) return solution.leaf.cost[j] - first->curve.price / mass;
  return walk.ending() == LimitWalk::Ending::no_blend ? Known<double>::none() : Known<double>{};
}

bool is_degenerate(const solver::SearchResult& solution) {
  const auto& data = solution.leaf;
  double mass = 0;
  for (const double v : solution.x) mass = std::max(mass, std::fabs(v));
  const auto close = [](double value, double bound, double size) {
    return std::isfinite(bound) && std::fabs(value - bound) <= 1e-9 * size;
  };
  for (std::size_t j = 0; j < solution.x.size(); ++j)
    if (solution.column_standing[j] == solver::BasisStatus::basic &&
        (close(solution.x[j], data.lower[j], mass) || close(solution.x[j], data.upper[j], mass)))
      return true;
  for (std::size_t i = 0; i < solution.row_standing.size(); ++i) {
    if (solution.row_standing[i] != solver::BasisStatus::basic) continue;
    double activity = 0;
    double size = 0;
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e) {
      const auto& entry = data.entries[static_cast<std::size_t>(e)];
      activity += entry.value * solution.x[static_cast<std::size_t>(entry.column)];
      size = std::max(size, std::fabs(entry.value) * mass);
    }
    if (close(activity, data.row_lower[i], size) || close(activity, data.row_upper[i], size))
      return true;
  }
  return false;
}

}  // namespace leastwise::solve
