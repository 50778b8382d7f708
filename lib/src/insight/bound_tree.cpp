#include "insight/bound_tree.hpp"

#include <algorithm>
#include <utility>

namespace leastwise::insight {

using solver::LinearStatus;

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
    : model_(model),
      options_(options),
      branching_(model),
      data_(solver::relaxation(model)),
      program_(data_) {}

bool NodeSolver::lay_bounds(const TreeNode& node) {
  branching_.apply(node.path, bounds_);
  if (bounds_.contradictory) return false;
  for (const auto& change : node.changes) {
    const auto j = static_cast<std::size_t>(change.column);
    bounds_.lower[j] = std::max(bounds_.lower[j], change.lower);
    bounds_.upper[j] = std::min(bounds_.upper[j], change.upper);
    if (bounds_.lower[j] > bounds_.upper[j]) return false;
  }
  for (std::size_t j = 0; j < data_.lower.size(); ++j) {
    if (data_.lower[j] == bounds_.lower[j] && data_.upper[j] == bounds_.upper[j]) continue;
    data_.lower[j] = bounds_.lower[j];
    data_.upper[j] = bounds_.upper[j];
    program_.set_column_bounds(static_cast<int>(j), bounds_.lower[j], bounds_.upper[j]);
  }
  for (std::size_t k = 0; k < model_.minima.size(); ++k) {
    if (model_.minima[k].row < 0) continue;
    const auto row = static_cast<std::size_t>(model_.minima[k].row);
    const double lower = bounds_.minimum_on[k] ? 0 : -model::infinity;
    if (data_.row_lower[row] == lower) continue;
    data_.row_lower[row] = lower;
    program_.set_row_bounds(model_.minima[k].row, lower, model::infinity);
  }
  return true;
}

/// Recomputes everything about the solution from the model's own numbers.
bool NodeSolver::verified() {
  x_.assign(program_.values().begin(), program_.values().end());
  y_.assign(program_.duals().begin(), program_.duals().end());
  const double nothing = solver::used_threshold(x_);
  for (std::size_t j = 0; j < x_.size(); ++j)
    if (x_[j] <= nothing && data_.lower[j] == 0) x_[j] = 0;
  solver::clean_duals(data_, y_);
  proof_ = solver::dual_proof(data_, y_);
  return proof_.violation <= solver::certificate_tolerance &&
         solver::primal_violation(data_, x_) <= solver::certificate_tolerance;
}

/// No claim of infeasibility is taken on the solver's word.
NodeOutcome NodeSolver::prove(bool fresh) {
  y_ = program_.infeasibility_multipliers();
  if (!y_.empty() && solver::contradicts(data_, y_)) return NodeOutcome::infeasible;
  y_ = solver::prove_infeasible(data_, options_.deadline);
  if (!y_.empty()) return NodeOutcome::infeasible;
  if (fresh) return NodeOutcome::failed;
  program_ = solver::LinearProgram(data_);
  return settle(program_.solve(options_.deadline), true);
}

NodeOutcome NodeSolver::settle(LinearStatus status, bool fresh) {
  if (status == LinearStatus::time_limit) return NodeOutcome::time_limit;
  if (status == LinearStatus::infeasible) return prove(fresh);
  if (status == LinearStatus::optimal && verified()) return NodeOutcome::solved;
  if (fresh) return NodeOutcome::failed;
  program_ = solver::LinearProgram(data_);
  return settle(program_.solve(options_.deadline), true);
}

NodeOutcome NodeSolver::solve(const TreeNode& node) {
  if (options_.stop.stop_requested()) return NodeOutcome::cancelled;
  if (options_.deadline && std::chrono::steady_clock::now() >= *options_.deadline)
    return NodeOutcome::time_limit;
  if (!lay_bounds(node)) return NodeOutcome::infeasible;
  if (!node.start.empty()) program_.set_warm_start(node.start);
  ++solves_;
  if (options_.counter) options_.counter->count();
  return settle(program_.solve(options_.deadline), false);
}

double NodeSolver::cost() const {
  double cost = 0;
  for (std::size_t j = 0; j < x_.size(); ++j) cost += data_.cost[j] * x_[j];
  return cost;
}

}  // namespace leastwise::insight
