#include "solver/bound_tree.hpp"

#include <algorithm>
#include <utility>

namespace leastwise::insight {

void OpenNodes::push(TreeNode node) {
  node.order = ++created_;
  nodes_.push(std::move(node));
}

TreeNode OpenNodes::pop() {
  TreeNode node = nodes_.top();
  nodes_.pop();
  return node;
}

double OpenNodes::best_bound() const {
  return nodes_.empty() ? model::infinity : nodes_.top().bound;
}

NodeSolver::NodeSolver(const model::Model& model, const solver::SearchOptions& options)
    : options_(options), branching_(model), program_(model, options.deadline, options.stop) {}

bool NodeSolver::find_bounds(const TreeNode& node) {
  branching_.apply(node.path, bounds_);
  if (bounds_.contradictory) return false;
  return std::ranges::all_of(node.changes, [&](const auto& change) {
    const auto j = static_cast<std::size_t>(change.column);
    bounds_.lower[j] = std::max(bounds_.lower[j], change.lower);
    bounds_.upper[j] = std::min(bounds_.upper[j], change.upper);
    return bounds_.lower[j] <= bounds_.upper[j];
  });
}

std::optional<solver::NodeBounds> NodeSolver::bounds_in(const TreeNode& node) {
  if (!find_bounds(node)) return std::nullopt;
  return bounds_;
}

NodeOutcome NodeSolver::solve(const TreeNode& node) {
  if (options_.stop.stop_requested()) return NodeOutcome::cancelled;
  if (options_.deadline && std::chrono::steady_clock::now() >= *options_.deadline)
    return NodeOutcome::time_limit;
  if (!find_bounds(node)) return NodeOutcome::infeasible;
  if (!node.start.empty()) program_.set_warm_start(node.start);
  ++solves_;
  if (options_.counter) options_.counter->count();
  switch (program_.solve(bounds_)) {
    case solver::NodeOutcome::solved:
      return NodeOutcome::solved;
    case solver::NodeOutcome::infeasible:
      return NodeOutcome::infeasible;
    case solver::NodeOutcome::interrupted:
      return options_.stop.stop_requested() ? NodeOutcome::cancelled : NodeOutcome::time_limit;
    case solver::NodeOutcome::dearer:  // no cutoff was given
    case solver::NodeOutcome::failed:
      break;
  }
  return NodeOutcome::failed;
}

double NodeSolver::cost() const {
  double cost = 0;
  for (std::size_t j = 0; j < x().size(); ++j) cost += data().cost[j] * x()[j];
  return cost;
}

}  // namespace leastwise::insight
