#include "solver/branch_program.hpp"

#include <utility>

namespace leastwise::solver {

BranchProgram::BranchProgram(const model::Model& model, std::vector<Decision> path,
                             const SearchOptions& options)
    : model_(model),
      path_(std::move(path)),
      options_(options),
      branching_(model),
      program_(model, options.deadline, options.stop) {}

SearchResult BranchProgram::solve() {
  branching_.apply(path_, bounds_);
  return settle();
}

SearchResult BranchProgram::solve_with(std::size_t j, double amount) {
  branching_.apply(path_, bounds_);
  if (bounds_.upper[j] < amount) bounds_.contradictory = true;
  bounds_.lower[j] = bounds_.upper[j] = amount;
  return settle();
}

SearchResult BranchProgram::settle() {
  SearchResult result;
  result.nodes = 1;
  result.lower_bound = -model::infinity;
  if (const auto why = interrupted(options_)) {
    result.status = *why;
    return result;
  }
  if (options_.counter) options_.counter->count();
  auto outcome = NodeOutcome::infeasible;
  const bool by_itself = bounds_.contradictory || model::bounds_cross(model_);
  if (!by_itself) {
    program_.follow_model();
    outcome = program_.solve(bounds_);
  }
  switch (outcome) {
    case NodeOutcome::solved:
      take_blend(model_, program_, path_, result);
      result.status = SearchStatus::optimal;
      result.lower_bound = result.cost;
      break;
    case NodeOutcome::infeasible:
      result.status = SearchStatus::infeasible;
      result.lower_bound = model::infinity;
      if (by_itself) break;
      result.y = program_.y();
      result.leaf = program_.data();
      break;
    case NodeOutcome::interrupted:
      result.status = interrupted(options_).value_or(SearchStatus::time_limit);
      break;
    case NodeOutcome::dearer:  // no cutoff was given
    case NodeOutcome::failed:
      result.status = SearchStatus::failed;
      break;
  }
  return result;
}

void take_blend(const model::Model& model, const NodeProgram& program,
                std::span<const Decision> path, SearchResult& result) {
  result.x = program.x();
  result.cost = 0;
  for (std::size_t j = 0; j < result.x.size(); ++j) result.cost += model.cost[j] * result.x[j];
  result.has_blend = true;
  result.y = program.y();
  result.leaf = program.data();
  result.path.assign(path.begin(), path.end());
  result.primal_violation = program.violation();
  result.dual_violation = program.proof().violation;
  auto basis = program.basis();
  result.column_standing = std::move(basis.columns);
  result.row_standing = std::move(basis.rows);
}

}  // namespace leastwise::solver
