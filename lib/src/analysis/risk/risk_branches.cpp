#include <algorithm>

#include "analysis/risk/risk_search.hpp"
#include "solver/certificate.hpp"

namespace leastwise::analysis {
namespace {

using model::infinity;

constexpr std::size_t bytes_of_all_bases = std::size_t{48} << 20U;
constexpr std::size_t bases_of_a_branch = 4;

}  // namespace

bool PriceSearch::split(std::size_t node, const Vertex& vertex, const std::vector<double>& cost) {
  const auto& program = shared_->program;
  const std::size_t most_branches =
      bytes_of_all_bases / (bases_of_a_branch * program.bytes_of_tableau());
  if (branches_.size() + 2 > most_branches) return false;
  const auto choice = shared_->branching.branch(vertex.x, branches_[node].path);
  if (!choice) return false;
  const std::size_t first = branches_.size();
  const auto parent = branches_[node].bounds;
  for (const auto& decision : {choice->first, choice->second}) {
    PriceBranch child(program, bases_of_a_branch);
    child.path = branches_[node].path;
    child.path.push_back(decision);
    branches_.push_back(std::move(child));
  }
  if (!open_child(first, *parent, vertex, cost) || !open_child(first + 1, *parent, vertex, cost)) {
    branches_.erase(branches_.begin() + static_cast<std::ptrdiff_t>(first), branches_.end());
    return false;
  }
  branches_[node].children = {first, first + 1};
  return true;
}

bool PriceSearch::open_child(std::size_t child, const VariableBounds& parent, const Vertex& vertex,
                             const std::vector<double>& cost) {
  PriceBranch& branch = branches_[child];
  solver::NodeBounds node;
  shared_->branching.apply(branch.path, node);
  if (node.contradictory) {
    branch.infeasible = true;
    return true;
  }
  auto bounds = std::make_shared<VariableBounds>(*branches_[0].bounds);
  std::copy(node.lower.begin(), node.lower.end(), bounds->lower.begin());
  std::copy(node.upper.begin(), node.upper.end(), bounds->upper.begin());
  const auto n = static_cast<std::size_t>(shared_->program.columns);
  for (std::size_t k = 0; k < shared_->model.minima.size(); ++k) {
    const int row = shared_->model.minima[k].row;
    if (row >= 0 && node.minimum_on[k]) bounds->lower[n + static_cast<std::size_t>(row)] = 0;
  }
  branch.bounds = std::move(bounds);
  pivoting_.load(vertex.tableau, parent, cost);
  pivoting_.tighten(*branch.bounds);
  const auto outcome = pivoting_.dual();
  if (outcome == PivotOutcome::infeasible) {
    branch.infeasible = proved_infeasible(branch);
    return branch.infeasible;
  }
  return outcome == PivotOutcome::optimal && pivoting_.primal(infinity) == PivotOutcome::optimal &&
         admit(child, cost) != nullptr;
}

/// A branch is given up only on multipliers that contradict its rows, whatever the costs.
bool PriceSearch::proved_infeasible(const PriceBranch& branch) {
  lay_bounds(branch);
  auto y = pivoting_.row_multipliers(pivoting_.broken_row());
  if (solver::contradicts(data_, y)) return true;
  for (double& multiplier : y) multiplier = -multiplier;
  if (solver::contradicts(data_, y)) return true;
  return !solver::prove_infeasible(data_, options_->deadline).empty();
}

}  // namespace leastwise::analysis
