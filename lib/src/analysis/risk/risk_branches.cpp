#include <algorithm>

#include "analysis/risk/risk_search.hpp"
#include "solver/certificate.hpp"

namespace leastwise::analysis {
namespace {

using model::infinity;

constexpr std::size_t bytes_of_all_bases = std::size_t{48} << 20U;
constexpr std::size_t bases_of_a_branch = 16;

}  // namespace

bool PriceSearch::split(std::size_t node, const Vertex& vertex, const std::vector<double>& cost) {
  const std::size_t most_branches =
      bytes_of_all_bases / (bases_of_a_branch * shared_->bytes_of_basis());
  if (branches_.size() + 2 > most_branches) return false;
  const auto choice = shared_->branching.branch(vertex.x, branches_[node].path);
  if (!choice) return false;
  const std::size_t first = branches_.size();
  for (const auto& decision : {choice->first, choice->second}) {
    PriceBranch child(shared_->columns(), bases_of_a_branch);
    child.path = branches_[node].path;
    child.path.push_back(decision);
    branches_.push_back(std::move(child));
  }
  if (!open_child(first, vertex, cost) || !open_child(first + 1, vertex, cost)) {
    branches_.erase(branches_.begin() + static_cast<std::ptrdiff_t>(first), branches_.end());
    return false;
  }
  branches_[node].children = {first, first + 1};
  return true;
}

bool PriceSearch::open_child(std::size_t child, const Vertex& vertex,
                             const std::vector<double>& cost) {
  PriceBranch& branch = branches_[child];
  if (!apply_bounds(branch)) {
    branch.infeasible = true;
    return true;
  }
  simplex_.stand_at(vertex.state);
  for (std::size_t j = 0; j < shared_->columns(); ++j)
    simplex_.set_bounds(j, data_.lower[j], data_.upper[j]);
  for (const auto& minimum : shared_->model.minima)
    if (minimum.row >= 0) {
      const auto i = static_cast<std::size_t>(minimum.row);
      simplex_.set_bounds(shared_->columns() + i, data_.row_lower[i], data_.row_upper[i]);
    }
  switch (simplex_.solve(options_->deadline, infinity)) {
    case solver::DenseOutcome::optimal:
      return admit(child, cost) != nullptr;
    case solver::DenseOutcome::infeasible:
      return branch.infeasible = proved_infeasible();
    case solver::DenseOutcome::dearer:
    case solver::DenseOutcome::time_limit:
    case solver::DenseOutcome::gave_up:
      break;
  }
  return false;
}

/// A branch is given up only on multipliers that contradict its rows, whatever the costs.
bool PriceSearch::proved_infeasible() {
  return solver::contradicts(data_, simplex_.multipliers()) ||
         !solver::prove_infeasible(data_, options_->deadline).empty();
}

}  // namespace leastwise::analysis
