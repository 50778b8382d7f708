#include "proof/broken_rule.hpp"

#include <algorithm>

namespace leastwise::proof {

using exact::ExactSolution;
using exact::Integer;
using solver::Decision;
using Kind = Decision::Kind;

namespace {

bool below_minimum(const ExactProgram& program, std::size_t k, const ExactSolution& solution) {
  for (std::size_t r = 0; r < program.size(); ++r) {
    if (program.rule(r).minimum != static_cast<int>(k)) continue;
    Integer missing = program.row(r).limit * solution.denominator;
    for (const auto& [j, value] : program.row(r).entries) missing -= value * solution.values[j];
    return missing > 0;
  }
  return false;
}

Choice branch_on_bins(const model::Model& model, std::span<const Decision> path,
                      const ExactSolution& solution) {
  if (!model.bins) return std::nullopt;
  int granules = 0;
  int largest = -1;
  for (std::size_t j = 0; j < solution.values.size(); ++j) {
    if (solution.values[j] <= 0 || !model.is_granule[j]) continue;
    ++granules;
    const bool holds = std::any_of(path.begin(), path.end(), [&](const Decision& d) {
      return d.kind == Kind::column_in && d.index == static_cast<int>(j);
    });
    if (holds) continue;
    if (largest < 0 || solution.values[j] > solution.values[static_cast<std::size_t>(largest)])
      largest = static_cast<int>(j);
  }
  if (granules <= *model.bins) return std::nullopt;
  return std::pair{Decision{Kind::column_in, largest}, Decision{Kind::column_out, largest}};
}

}  // namespace

Choice branch_on_broken_rule(const model::Model& model, const ExactProgram& program,
                             std::span<const Decision> path, const ExactSolution& solution) {
  const auto used = [&](int j) { return solution.values[static_cast<std::size_t>(j)] > 0; };
  const auto family_used = [&](int f) {
    const auto& members = model.families[static_cast<std::size_t>(f)];
    return std::any_of(members.begin(), members.end(), used);
  };
  for (const auto& pair : model.apart)
    if (pair.active && family_used(pair.family_a) && family_used(pair.family_b))
      return std::pair{Decision{Kind::neighbours_out, pair.family_a},
                       Decision{Kind::family_out, pair.family_a}};
  for (std::size_t k = 0; k < model.minima.size(); ++k) {
    const int column = model.minima[k].column;
    if (model.minima[k].active && used(column) && below_minimum(program, k, solution))
      return std::pair{Decision{Kind::column_on, column}, Decision{Kind::column_out, column}};
  }
  return branch_on_bins(model, path, solution);
}

}  // namespace leastwise::proof
