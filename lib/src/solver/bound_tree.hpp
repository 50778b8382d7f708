#pragma once
#include <queue>
#include <span>
#include <stop_token>
#include <vector>

#include "model/model.hpp"
#include "solver/branching.hpp"
#include "solver/node_program.hpp"
#include "solver/search.hpp"

namespace leastwise::insight {

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
  std::vector<solver::Decision> path{};
  std::vector<BoundChange> changes{};
  /// Units by which the last change moves its column; 0: something else was last.
  double moved = 0;
  std::vector<int> in{};  ///< columns that every blend sought here makes use of, ascending
  solver::WarmStart start{};
};

/// Open nodes, best bound first.
class OpenNodes {
 public:
  void push(TreeNode node);
  [[nodiscard]] TreeNode pop();
  [[nodiscard]] bool empty() const { return nodes_.empty(); }
  [[nodiscard]] double best_bound() const;

 private:
  struct DearerFirst {
    bool operator()(const TreeNode& a, const TreeNode& b) const {
      return a.bound != b.bound ? a.bound > b.bound : a.order > b.order;
    }
  };
  std::priority_queue<TreeNode, std::vector<TreeNode>, DearerFirst> nodes_{};
  long created_ = 0;
};

enum class NodeOutcome { solved, infeasible, time_limit, cancelled, failed };

/// Solves the nodes of a search that branches on bounds only: one linear program kept warm, every
/// outcome verified from the model's own numbers, as `solver::search` does.
class NodeSolver {
 public:
  /// `model` must outlive the solver.
  NodeSolver(const model::Model& model, const solver::SearchOptions& options);

  [[nodiscard]] NodeOutcome solve(const TreeNode& node);
  /// The bounds in a node, before it is solved; nothing when they contradict each other.
  [[nodiscard]] std::optional<solver::NodeBounds> bounds_in(const TreeNode& node);
  /// Two decisions that cover every blend and both exclude the present x; nothing when it obeys
  /// every either-or rule.
  [[nodiscard]] std::optional<std::pair<solver::Decision, solver::Decision>> branch(
      std::span<const solver::Decision> path) const {
    return branching_.branch(x(), path);
  }

  // Of the node solved last.
  [[nodiscard]] const std::vector<double>& x() const { return program_.x(); }
  [[nodiscard]] double cost() const;
  [[nodiscard]] double bound() const { return program_.proof().bound; }  ///< proved lower bound
  [[nodiscard]] const solver::LinearData& data() const { return program_.data(); }
  [[nodiscard]] solver::WarmStart warm_start() const { return program_.warm_start(); }
  [[nodiscard]] long solves() const { return solves_; }

 private:
  [[nodiscard]] bool find_bounds(const TreeNode& node);

  const solver::SearchOptions& options_;
  solver::Branching branching_;
  solver::NodeProgram program_;
  solver::NodeBounds bounds_{};
  long solves_ = 0;
};

}  // namespace leastwise::insight
