#include "analysis/rounding/rounding_search.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "analysis/rounding/rounding_rows.hpp"
#include "solve/answer_parts.hpp"
#include "solver/branch_and_bound.hpp"
#include "solver/pseudo_costs.hpp"

namespace leastwise::analysis {
namespace {

using solver::BoundChange;
using solver::SearchStatus;
using solver::Step;
using solver::TreeNode;

/// Closer to a whole number than this counts as whole; snapping is then checked against all rows.
constexpr double whole = 1e-6;
/// Closer than this there is nothing left to divide.
constexpr double no_part = 1e-11;

class GridSearch : solver::BranchAndBound {
 public:
  GridSearch(const GridModel& grid, long most_solves, const solver::SearchOptions& options)
      : BranchAndBound(grid.model, options),
        grid_(grid),
        most_solves_(most_solves),
        rows_(grid),
        pseudo_costs_(grid.model.cost.size()) {}

  GridSearchResult run();

 private:
  bool goes_on() override { return best_open_bound() < worth_beating(); }
  Step prepare(solver::TreeNode& node) override;
  void found_infeasible(const solver::TreeNode&) override { result_.relaxed_too = solves() <= 1; }
  void found_solved(const solver::TreeNode& node) override;
  Step divide(solver::TreeNode& node) override;
  [[nodiscard]] bool narrow(solver::TreeNode& node);
  [[nodiscard]] int broken_column(double tolerance) const;
  bool accept();
  void split(solver::TreeNode& node, int column);
  void settle_binder(solver::TreeNode& node);
  [[nodiscard]] double worth_beating() const {
    return result_.found ? result_.cost - solve::cost_tolerance(result_.cost) : model::infinity;
  }

  const GridModel& grid_;
  long most_solves_;
  GridRows rows_;
  solver::PseudoCosts pseudo_costs_;
  bool binder_settled_ = false;
  GridSearchResult result_{};
};

/// The most promising column that is off a whole number of units; -1 when all are within
/// `tolerance`, which counts in units.
int GridSearch::broken_column(double tolerance) const {
  int best = -1;
  double most = -1;
  for (const int j : grid_.grid) {
    const auto column = static_cast<std::size_t>(j);
    const double count = x()[column] / grid_.unit;
    if (std::fabs(count - std::round(count)) <= tolerance) continue;
    const double score = pseudo_costs_.score(column, count - std::floor(count));
    if (score <= most) continue;
    most = score;
    best = j;
  }
  return best;
}

/// What the last division was worth: the bound is still that of before.
void GridSearch::found_solved(const solver::TreeNode& node) {
  if (node.moved <= 0) return;
  const solver::BoundChange& last = node.changes.back();
  pseudo_costs_.update(static_cast<std::size_t>(last.column), last.upper == model::infinity,
                       node.moved, program().proof().bound - node.bound);
}

/// Takes the present x, snapped to the grid. Returns: false when the snapped blend breaks a row.
bool GridSearch::accept() {
  auto x = this->x();
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
  if (solver::primal_violation(program().data(), x) > solver::certificate_tolerance) return false;
  double cost = 0;
  for (std::size_t j = 0; j < x.size(); ++j) cost += m.cost[j] * x[j];
  if (result_.found && cost >= result_.cost) return true;
  result_.found = true;
  result_.x = std::move(x);
  result_.cost = cost;
  return true;
}

/// Leaves the farther whole number open and goes on with the nearer one.
void GridSearch::split(solver::TreeNode& node, int column) {
  const double count = x()[static_cast<std::size_t>(column)] / grid_.unit;
  const solver::BoundChange down{column, 0, std::floor(count) * grid_.unit};
  const solver::BoundChange up{column, std::ceil(count) * grid_.unit, model::infinity};
  const bool nearer_down = count - std::floor(count) < 0.5;
  solver::TreeNode later = node;
  const double part = count - std::floor(count);
  later.changes.push_back(nearer_down ? up : down);
  later.moved = nearer_down ? 1 - part : part;
  leave_open(std::move(later));
  node.changes.push_back(nearer_down ? down : up);
  node.moved = nearer_down ? part : 1 - part;
}

/// At the root: the binder is the step nearest to its share, or, left open for later, the one step
/// of powders whose share is nearer to none.
void GridSearch::settle_binder(solver::TreeNode& node) {
  binder_settled_ = true;
  solver::TreeNode later = node;
  later.changes.push_back({grid_.binder_column, 0, 0});
  later.moved = node.moved = 0;
  leave_open(std::move(later));
  node.changes.push_back({grid_.least_binder_column, 0, 0});
}

/// Narrows the node's bounds by its rows. Returns: false when no whole numbers are left in it.
bool GridSearch::narrow(solver::TreeNode& node) {
  if (!apply_bounds(node)) return false;
  auto narrowed = bounds();
  if (!rows_.narrow(narrowed)) return false;
  const auto& before = bounds();
  for (std::size_t j = 0; j < before.lower.size(); ++j)
    if (narrowed.lower[j] != before.lower[j] || narrowed.upper[j] != before.upper[j])
      node.changes.push_back({static_cast<int>(j), narrowed.lower[j], narrowed.upper[j]});
  return true;
}

Step GridSearch::prepare(solver::TreeNode& node) {
  if (solves() >= most_solves_) {
    result_.gave_up = true;
    return stop(SearchStatus::time_limit);
  }
  return narrow(node) ? Step::dive : Step::close;
}

Step GridSearch::divide(solver::TreeNode& node) {
  if (node.bound >= worth_beating()) return Step::close;
  if (!binder_settled_ && grid_.least_binder_column >= 0) {
    settle_binder(node);
    return Step::dive;
  }
  if (dive_into_side(node)) return Step::dive;
  int column = broken_column(whole);
  if (column < 0) {
    if (accept()) return Step::close;
    // A row is so narrow that even this little matters: the whole numbers are told apart.
    column = broken_column(no_part);
    if (column < 0) return stop(SearchStatus::failed);
  }
  split(node, column);
  return Step::dive;
}

GridSearchResult GridSearch::run() {
  open({});
  const bool complete = BranchAndBound::run();
  result_.lower_bound = std::min(result_.found ? result_.cost : model::infinity,
                                 complete ? model::infinity : bound_when_stopped());
  result_.status =
      stopped().value_or(result_.found ? SearchStatus::optimal : SearchStatus::infeasible);
  result_.solves = solves();
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

}  // namespace leastwise::analysis
