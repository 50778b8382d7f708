#include "solver/search.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <utility>

#include "solver/branch_and_bound.hpp"
#include "solver/branch_program.hpp"

namespace leastwise::solver {
namespace {

using model::infinity;

/// A blend counts as cheaper only beyond this share of the cost.
constexpr double improvement = 1e-10;

class Search : BranchAndBound {
 public:
  Search(const model::Model& model, const SearchOptions& options)
      : BranchAndBound(model, options), model_(model), cutoff_(options.cutoff) {}

  SearchResult run();

 private:
  void open_leaves();
  bool goes_on() override {  // best first: where this one is too dear, all are
    return best_open_bound() < worth_beating() || options().record_leaves;
  }
  NodeOutcome solve(const TreeNode& node) override;
  void found_infeasible(const TreeNode& node) override { record(node, Leaf::Outcome::infeasible); }
  Step divide(TreeNode& node) override;
  void record(const TreeNode& node, Leaf::Outcome outcome);
  [[nodiscard]] double worth_beating() const {
    return std::isfinite(cutoff_) ? cutoff_ - improvement * std::max(1.0, std::fabs(cutoff_))
                                  : infinity;
  }

  const model::Model& model_;
  double cutoff_;
  SearchResult result_{};
};

NodeOutcome Search::solve(const TreeNode& node) {
  ++result_.nodes;
  if (options().counter) options().counter->count();
  if (!apply_bounds(node)) return NodeOutcome::infeasible;
  if (!node.path.empty() || options().root == Root::kernel)
    return options().record_leaves ? program().solve(bounds())  // a leaf needs its whole bound
                                   : program().solve_below(bounds(), worth_beating());
  return program().solve_question(bounds(), options().root == Root::as_clp);
}

void Search::record(const TreeNode& node, Leaf::Outcome outcome) {
  if (!options().record_leaves) return;
  result_.leaves.push_back({node.path, outcome, {}});
  if (bounds().contradictory) return;
  result_.leaves.back().multipliers = program().y();
  result_.leaves.back().start = program().warm_start();
}

/// Opens those leaves that what is proved of them no longer settles.
void Search::open_leaves() {
  for (const auto& leaf : options().leaves) {
    if (!apply_bounds({.path = leaf.path})) continue;
    double bound = -infinity;
    if (leaf.outcome == Leaf::Outcome::bounded) {
      const auto proof = program().bound(bounds(), leaf.multipliers);
      if (proof.violation <= certificate_tolerance) bound = proof.bound;
    } else if (!leaf.multipliers.empty() && program().impossible(bounds(), leaf.multipliers)) {
      continue;
    }
    if (bound < worth_beating()) open({.bound = bound, .path = leaf.path, .start = leaf.start});
  }
}

Step Search::divide(TreeNode& node) {
  if (program().proof().bound >= worth_beating()) {
    record(node, Leaf::Outcome::bounded);
    return Step::close;
  }
  if (dive_into_side(node)) return Step::dive;
  record(node, Leaf::Outcome::bounded);
  take_blend(model_, program(), node.path, result_);
  cutoff_ = result_.cost;
  return options().any ? Step::stop : Step::close;
}

SearchResult Search::run() {
  if (options().leaves.empty())
    open({});
  else
    open_leaves();
  static_cast<void>(BranchAndBound::run());
  result_.lower_bound = result_.has_blend ? result_.cost : infinity;
  if (stopped()) result_.lower_bound = std::min(result_.lower_bound, bound_when_stopped());
  result_.status =
      stopped().value_or(result_.has_blend ? SearchStatus::optimal : SearchStatus::infeasible);
  return std::move(result_);
}

SearchResult nothing_possible() {
  SearchResult result;
  result.status = SearchStatus::infeasible;
  result.lower_bound = infinity;
  return result;
}

}  // namespace

std::optional<SearchStatus> interrupted(const SearchOptions& options) {
  if (options.stop.stop_requested()) return SearchStatus::cancelled;
  if (options.deadline && std::chrono::steady_clock::now() >= *options.deadline)
    return SearchStatus::time_limit;
  return std::nullopt;
}

SearchResult search(const model::Model& model, const SearchOptions& options) {
  if (model::bounds_cross(model)) return nothing_possible();
  return Search(model, options).run();
}

}  // namespace leastwise::solver
