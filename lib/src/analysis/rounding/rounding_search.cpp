#include "analysis/rounding/rounding_search.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "analysis/rounding/rounding_rows.hpp"
#include "solve/landscape.hpp"
#include "solver/bound_tree.hpp"
#include "solver/branch_gains.hpp"

namespace leastwise::insight {
namespace {

using solver::SearchStatus;

/// Closer to a whole number than this counts as whole; snapping is then checked against all rows.
constexpr double whole = 1e-6;
/// Closer than this there is nothing left to divide.
constexpr double no_part = 1e-11;

class GridSearch {
 public:
  GridSearch(const GridModel& grid, long most_solves, const solver::SearchOptions& options)
      : grid_(grid),
        most_solves_(most_solves),
        nodes_(grid.model, options),
        rows_(grid),
        gains_(grid.model.cost.size()) {}

  GridSearchResult run();

 private:
  bool explore(TreeNode node);
  bool stop(NodeOutcome outcome, double bound);
  [[nodiscard]] bool narrow(TreeNode& node);
  [[nodiscard]] int broken_column(double tolerance) const;
  void learn(const TreeNode& node, double before);
  bool accept();
  void split(TreeNode& node, int column);
  void settle_binder(TreeNode& node);
  [[nodiscard]] double worth_beating() const {
    return result_.found ? result_.cost - cost_tolerance(result_.cost) : model::infinity;
  }

  const GridModel& grid_;
  long most_solves_;
  NodeSolver nodes_;
  GridRows rows_;
  BranchGains gains_;
  bool binder_settled_ = false;
  OpenNodes open_{};
  double abandoned_bound_ = model::infinity;
  GridSearchResult result_{};
};

/// The most promising column that is off a whole number of units; -1 when all are within
/// `tolerance`, which counts in units.
int GridSearch::broken_column(double tolerance) const {
  int best = -1;
  double most = -1;
  for (const int j : grid_.grid) {
    const auto column = static_cast<std::size_t>(j);
    const double count = nodes_.x()[column] / grid_.unit;
    if (std::fabs(count - std::round(count)) <= tolerance) continue;
    const double promise = gains_.promise(column, count - std::floor(count));
    if (promise <= most) continue;
    most = promise;
    best = j;
  }
  return best;
}

/// What the last division was worth: the bound was `before` where it was made.
void GridSearch::learn(const TreeNode& node, double before) {
  if (node.moved <= 0) return;
  const BoundChange& last = node.changes.back();
  gains_.learn(static_cast<std::size_t>(last.column), last.upper == model::infinity, node.moved,
               nodes_.bound() - before);
}

/// Takes the present x, snapped to the grid. Returns: false when the snapped blend breaks a row.
bool GridSearch::accept() {
  auto x = nodes_.x();
  for (const int j : grid_.grid) {
    auto& amount = x[static_cast<std::size_t>(j)];
    amount = std::round(amount / grid_.unit) * grid_.unit;
  }
  const auto& m = grid_.model;
  if (m.total_column >= 0) {
    // The column that stands for the total follows from the rest.
    double total = 0;
    const auto row = static_cast<std::size_t>(m.total_row);
    for (int e = m.row_start[row]; e < m.row_start[row + 1]; ++e) {
      const auto& entry = m.entries[static_cast<std::size_t>(e)];
      if (entry.column != m.total_column)
        total += entry.value * x[static_cast<std::size_t>(entry.column)];
    }
    x[static_cast<std::size_t>(m.total_column)] = total;
  }
  if (solver::primal_violation(nodes_.data(), x) > solver::certificate_tolerance) return false;
  double cost = 0;
  for (std::size_t j = 0; j < x.size(); ++j) cost += m.cost[j] * x[j];
  if (result_.found && cost >= result_.cost) return true;
  result_.found = true;
  result_.x = std::move(x);
  result_.cost = cost;
  return true;
}

/// Leaves the farther whole number open and goes on with the nearer one.
void GridSearch::split(TreeNode& node, int column) {
  const double count = nodes_.x()[static_cast<std::size_t>(column)] / grid_.unit;
  const BoundChange down{column, 0, std::floor(count) * grid_.unit};
  const BoundChange up{column, std::ceil(count) * grid_.unit, model::infinity};
  const bool nearer_down = count - std::floor(count) < 0.5;
  TreeNode later = node;
  const double part = count - std::floor(count);
  later.changes.push_back(nearer_down ? up : down);
  later.moved = nearer_down ? 1 - part : part;
  later.start = nodes_.warm_start();
  open_.push(std::move(later));
  node.changes.push_back(nearer_down ? down : up);
  node.moved = nearer_down ? part : 1 - part;
  node.start.clear();  // goes on from the present basis
}

/// At the root: the binder is the step nearest to its share, or, left open for later, the one step
/// of powders whose share is nearer to none.
void GridSearch::settle_binder(TreeNode& node) {
  binder_settled_ = true;
  TreeNode later = node;
  later.changes.push_back({grid_.binder_column, 0, 0});
  later.moved = node.moved = 0;
  later.start = nodes_.warm_start();
  open_.push(std::move(later));
  node.changes.push_back({grid_.least_binder_column, 0, 0});
  node.start.clear();
}

bool GridSearch::stop(NodeOutcome outcome, double bound) {
  abandoned_bound_ = bound;
  result_.status = outcome == NodeOutcome::time_limit  ? SearchStatus::time_limit
                   : outcome == NodeOutcome::cancelled ? SearchStatus::cancelled
                                                       : SearchStatus::failed;
  return false;
}

/// Narrows the node's bounds by its rows. Returns: false when no whole numbers are left in it.
bool GridSearch::narrow(TreeNode& node) {
  auto bounds = nodes_.bounds_in(node);
  if (!bounds) return false;
  const auto before = *bounds;
  if (!rows_.narrow(*bounds)) return false;
  for (std::size_t j = 0; j < before.lower.size(); ++j)
    if (bounds->lower[j] != before.lower[j] || bounds->upper[j] != before.upper[j])
      node.changes.push_back({static_cast<int>(j), bounds->lower[j], bounds->upper[j]});
  return true;
}

bool GridSearch::explore(TreeNode node) {
  for (;;) {
    if (nodes_.solves() >= most_solves_) {
      result_.gave_up = true;
      return stop(NodeOutcome::time_limit, node.bound);
    }
    if (!narrow(node)) return true;
    const auto outcome = nodes_.solve(node);
    if (outcome == NodeOutcome::infeasible) {
      result_.relaxed_too = nodes_.solves() <= 1;
      return true;
    }
    if (outcome != NodeOutcome::solved) return stop(outcome, node.bound);
    learn(node, node.bound);
    node.bound = std::max(node.bound, nodes_.bound());
    if (node.bound >= worth_beating()) return true;
    if (!binder_settled_ && grid_.least_binder_column >= 0) {
      settle_binder(node);
      continue;
    }
    if (const auto choice = nodes_.branch(node.path)) {
      TreeNode later = node;
      later.path.push_back(choice->second);
      later.moved = node.moved = 0;
      later.start = nodes_.warm_start();
      open_.push(std::move(later));
      node.path.push_back(choice->first);
      node.start.clear();
      continue;
    }
    int column = broken_column(whole);
    if (column < 0) {
      if (accept()) return true;
      // A row is so narrow that even this little matters: the whole numbers are told apart.
      column = broken_column(no_part);
      if (column < 0) return stop(NodeOutcome::failed, node.bound);
    }
    split(node, column);
  }
}

GridSearchResult GridSearch::run() {
  result_.status = SearchStatus::optimal;
  bool going = explore({});
  while (going && !open_.empty() && open_.best_bound() < worth_beating())
    going = explore(open_.pop());
  result_.lower_bound = std::min({result_.found ? result_.cost : model::infinity, abandoned_bound_,
                                  going ? model::infinity : open_.best_bound()});
  if (going && !result_.found) result_.status = SearchStatus::infeasible;
  result_.solves = nodes_.solves();
  return std::move(result_);
}

}  // namespace

GridSearchResult search_grid(const GridModel& grid, long most_solves,
                             const solver::SearchOptions& options) {
  if (model::bounds_cross(grid.model)) {
    GridSearchResult nothing;
    nothing.status = SearchStatus::infeasible;
    nothing.relaxed_too = true;
    return nothing;
  }
  return GridSearch(grid, most_solves, options).run();
}

}  // namespace leastwise::insight
