#include "solver/branch_and_bound.hpp"

#include <algorithm>

namespace leastwise::solver {
namespace {

bool comes_later(const TreeNode& a, const TreeNode& b) {
  return a.bound != b.bound ? a.bound > b.bound : a.order > b.order;
}

}  // namespace

void BranchAndBound::open(TreeNode node) {
  node.order = ++created_;
  open_.push_back(std::move(node));
  std::ranges::push_heap(open_, comes_later);
}

void BranchAndBound::leave_open(TreeNode node) {
  node.start = program_.warm_start();
  open(std::move(node));
}

bool BranchAndBound::leave_sides_open(const TreeNode& node) {
  const auto sides = branching_.branch(x(), node.path);
  if (!sides) return false;
  for (const Decision& side : {sides->first, sides->second}) {
    TreeNode part = node;
    part.path.push_back(side);
    leave_open(std::move(part));
  }
  return true;
}

bool BranchAndBound::dive_into_side(TreeNode& node) {
  const auto sides = branching_.branch(x(), node.path);
  if (!sides) return false;
  node.moved = 0;
  TreeNode later = node;
  later.path.push_back(sides->second);
  leave_open(std::move(later));
  node.path.push_back(sides->first);
  return true;
}

Step BranchAndBound::stop(SearchStatus status) {
  stopped_ = status;
  return Step::stop;
}

bool BranchAndBound::apply_bounds(const TreeNode& node) {
  branching_.apply(node.path, bounds_);
  if (bounds_.contradictory) return false;
  return std::ranges::all_of(node.changes, [&](const auto& change) {
    const auto j = static_cast<std::size_t>(change.column);
    bounds_.lower[j] = std::max(bounds_.lower[j], change.lower);
    bounds_.upper[j] = std::min(bounds_.upper[j], change.upper);
    return bounds_.lower[j] <= bounds_.upper[j];
  });
}

double BranchAndBound::cost() const {
  double cost = 0;
  for (std::size_t j = 0; j < x().size(); ++j) cost += program_.data().cost[j] * x()[j];
  return cost;
}

double BranchAndBound::best_open_bound() const {
  return open_.empty() ? model::infinity : open_.front().bound;
}

double BranchAndBound::bound_when_stopped() const {
  return std::min(best_open_bound(), left_bound_);
}

NodeOutcome BranchAndBound::solve(const TreeNode& node) {
  if (!apply_bounds(node)) return NodeOutcome::infeasible;
  ++solves_;
  if (options_.counter) options_.counter->count();
  return program_.solve(bounds_);
}

Step BranchAndBound::visit(TreeNode& node) {
  if (const Step step = prepare(node); step != Step::dive) return step;
  if (const auto why = interrupted(options_)) return stop(*why);
  switch (solve(node)) {
    case NodeOutcome::interrupted:
      return stop(interrupted(options_).value_or(SearchStatus::time_limit));
    case NodeOutcome::failed:
      return stop(SearchStatus::failed);
    case NodeOutcome::infeasible:
      found_infeasible(node);
      return Step::close;
    case NodeOutcome::dearer:
      return Step::close;
    case NodeOutcome::solved:
      break;
  }
  found_solved(node);
  node.bound = std::max(node.bound, program_.proof().bound);
  return divide(node);
}

bool BranchAndBound::run() {
  while (!open_.empty() && goes_on()) {
    std::ranges::pop_heap(open_, comes_later);
    TreeNode node = std::move(open_.back());
    open_.pop_back();
    if (!node.start.empty()) program_.set_warm_start(node.start);
    node.start.clear();
    Step step = Step::dive;
    while (step == Step::dive) {
      left_bound_ = node.bound;
      step = visit(node);
    }
    if (step == Step::stop) return false;
  }
  return true;
}

}  // namespace leastwise::solver
