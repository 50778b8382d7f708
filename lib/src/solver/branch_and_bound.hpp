#pragma once
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "model/model.hpp"
#include "solver/branching.hpp"
#include "solver/node_program.hpp"
#include "solver/search.hpp"

namespace leastwise::solver {

/// A column's bounds, narrowed.
struct BoundChange {
  int column = 0;
  double lower = 0;
  double upper = 0;
};

/// One open part of a search: the either-or decisions and narrowed bounds that lead to it.
struct TreeNode {
  double bound = -model::infinity;  ///< no blend in this part costs less
  long order = 0;                   ///< ties are settled by order of creation
  std::vector<Decision> path{};
  std::vector<BoundChange> changes{};
  /// Units by which the last change moves its column; 0: something else was last.
  double moved = 0;
  std::vector<int> in{};  ///< columns that every blend sought here makes use of, ascending
  WarmStart start{};      ///< the basis to begin from; empty: the present one
};

/// What comes after a node.
enum class Step {
  close,  ///< nothing more is sought in it
  dive,   ///< the node has been narrowed to one of its parts, which is next
  stop,   ///< the search is over
};

/// Branch and bound over the linear programs of a model, by narrowing bounds only.
///
/// The open node of the lowest bound is next; each is dived into for as long as `divide` says so.
/// One linear program is kept warm, and every outcome is verified from the model's own numbers.
/// What is sought and how a node is divided is said by the class derived from it.
class BranchAndBound {
 protected:
  /// `model` and `options` must outlive it.
  BranchAndBound(const model::Model& model, const SearchOptions& options)
      : options_(options), branching_(model), program_(model, options.deadline, options.stop) {}
  ~BranchAndBound() = default;
  BranchAndBound(const BranchAndBound&) = delete;
  BranchAndBound& operator=(const BranchAndBound&) = delete;

  /// Searches what is open. Returns: false when the search was stopped.
  bool run();
  /// Opens a part as it stands: before `run`, the whole (`{}`) or what another search left.
  void open(TreeNode node);
  /// Leaves `node` for later, to begin from the present basis.
  void leave_open(TreeNode node);
  void forget_open() { open_.clear(); }
  /// Leaves both sides of an either-or rule that x breaks for later; false: x breaks none.
  bool leave_sides_open(const TreeNode& node);
  /// The same, but dives into the likelier side.
  bool dive_into_side(TreeNode& node);
  /// Ends the search for that reason.
  Step stop(SearchStatus status);

  /// Lays the bounds of `node` on the model; false: they contradict each other.
  bool apply_bounds(const TreeNode& node);
  [[nodiscard]] NodeBounds& bounds() { return bounds_; }
  [[nodiscard]] NodeProgram& program() { return program_; }
  [[nodiscard]] const NodeProgram& program() const { return program_; }
  [[nodiscard]] const SearchOptions& options() const { return options_; }

  // Of the node solved last.
  [[nodiscard]] const std::vector<double>& x() const { return program_.x(); }
  [[nodiscard]] double cost() const;

  /// Why it was stopped, if it was.
  [[nodiscard]] std::optional<SearchStatus> stopped() const { return stopped_; }
  /// No open blend costs less; infinity when nothing is open.
  [[nodiscard]] double best_open_bound() const;
  /// The same of what is open and of the node in which the search was stopped.
  [[nodiscard]] double bound_when_stopped() const;
  [[nodiscard]] bool all_closed() const { return open_.empty(); }
  [[nodiscard]] long solves() const { return solves_; }

 private:
  /// Whether the open nodes are still of interest; asked before each is taken up.
  virtual bool goes_on() = 0;
  /// Narrows the bounds of a node before it is solved, or has enough.
  virtual Step prepare(TreeNode&) { return Step::dive; }
  /// Solves `node` under its bounds.
  virtual NodeOutcome solve(const TreeNode& node);
  /// Told of each node that contains no blend.
  virtual void found_infeasible(const TreeNode&) {}
  /// Told of each node solved, before its bound is raised.
  virtual void found_solved(const TreeNode&) {}
  /// Takes the blend of a solved node, or divides the node.
  virtual Step divide(TreeNode& node) = 0;

  Step visit(TreeNode& node);

  const SearchOptions& options_;
  Branching branching_;
  NodeProgram program_;
  NodeBounds bounds_{};
  std::vector<TreeNode> open_{};  ///< a heap, the lowest bound on top
  long created_ = 0;
  long solves_ = 0;
  double left_bound_ = model::infinity;  ///< of the node at hand when the search was stopped
  std::optional<SearchStatus> stopped_{};
};

}  // namespace leastwise::solver
