#include "solver/search.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <queue>
#include <utility>

#include "solver/branch_program.hpp"
#include "solver/branching.hpp"
#include "solver/node_program.hpp"

namespace leastwise::solver {
namespace {

using model::infinity;

/// A blend counts as cheaper only beyond this share of the cost.
constexpr double improvement = 1e-10;

struct Node {
  double bound = -infinity;
  long order = 0;
  std::vector<Decision> path{};
  WarmStart start{};
};

struct DearerFirst {
  bool operator()(const Node& a, const Node& b) const {
    return a.bound != b.bound ? a.bound > b.bound : a.order > b.order;
  }
};

class Search {
 public:
  Search(const model::Model& model, const SearchOptions& options)
      : model_(model),
        options_(options),
        branching_(model),
        program_(model, options.deadline, options.stop),
        cutoff_(options.cutoff) {}

  SearchResult run();

 private:
  void open_leaves();
  bool explore(Node node);
  NodeOutcome solve_node(std::span<const Decision> path);
  void accept(std::span<const Decision> path);
  void record(std::span<const Decision> path, Leaf::Outcome outcome);
  [[nodiscard]] double worth_beating() const {
    return std::isfinite(cutoff_) ? cutoff_ - improvement * std::max(1.0, std::fabs(cutoff_))
                                  : infinity;
  }
  [[nodiscard]] SearchStatus interruption() const {
    return options_.stop.stop_requested() ? SearchStatus::cancelled : SearchStatus::time_limit;
  }
  bool stop(SearchStatus status) {
    stopped_ = status;
    return false;
  }
  void finish();

  const model::Model& model_;
  const SearchOptions& options_;
  Branching branching_;
  NodeProgram program_;
  NodeBounds bounds_{};
  double cutoff_;
  std::priority_queue<Node, std::vector<Node>, DearerFirst> open_{};
  long created_ = 0;
  std::optional<SearchStatus> stopped_{};
  double abandoned_bound_ = infinity;  ///< of the node at hand when a limit struck
  SearchResult result_{};
};

NodeOutcome Search::solve_node(std::span<const Decision> path) {
  ++result_.nodes;
  branching_.apply(path, bounds_);
  if (bounds_.contradictory) return NodeOutcome::infeasible;
  if (!path.empty() || options_.root == Root::kernel)
    return options_.record_leaves ? program_.solve(bounds_)  // a leaf needs its whole bound
                                  : program_.solve_below(bounds_, worth_beating());
  return program_.solve_question(bounds_, options_.root == Root::as_clp);
}

void Search::record(std::span<const Decision> path, Leaf::Outcome outcome) {
  if (!options_.record_leaves) return;
  result_.leaves.push_back({{path.begin(), path.end()}, outcome, {}});
  if (bounds_.contradictory) return;
  result_.leaves.back().multipliers = program_.y();
  result_.leaves.back().start = program_.warm_start();
}

/// Opens those leaves that what is proved of them no longer settles.
void Search::open_leaves() {
  for (const auto& leaf : options_.leaves) {
    branching_.apply(leaf.path, bounds_);
    if (bounds_.contradictory) continue;
    double bound = -infinity;
    if (leaf.outcome == Leaf::Outcome::bounded) {
      const auto proof = program_.bound(bounds_, leaf.multipliers);
      if (proof.violation <= certificate_tolerance) bound = proof.bound;
    } else if (!leaf.multipliers.empty() && program_.impossible(bounds_, leaf.multipliers)) {
      continue;
    }
    if (bound < worth_beating()) open_.push({bound, ++created_, leaf.path, leaf.start});
  }
}

void Search::accept(std::span<const Decision> path) {
  take_blend(model_, program_, path, result_);
  cutoff_ = result_.cost;
}

/// Follows one node down to where it ends, leaving the other branches open. False: stop at once.
bool Search::explore(Node node) {
  for (;;) {
    abandoned_bound_ = node.bound;
    if (options_.stop.stop_requested()) return stop(SearchStatus::cancelled);
    if (options_.deadline && std::chrono::steady_clock::now() >= *options_.deadline)
      return stop(SearchStatus::time_limit);
    if (options_.counter) options_.counter->count();
    switch (solve_node(node.path)) {
      case NodeOutcome::interrupted:
        return stop(interruption());
      case NodeOutcome::failed:
        return stop(SearchStatus::failed);
      case NodeOutcome::infeasible:
        record(node.path, Leaf::Outcome::infeasible);
        return true;
      case NodeOutcome::dearer:
        return true;
      case NodeOutcome::solved:
        break;
    }
    const double bound = std::max(node.bound, program_.proof().bound);
    if (program_.proof().bound >= worth_beating()) {
      record(node.path, Leaf::Outcome::bounded);
      return true;
    }
    const auto choice = branching_.branch(program_.x(), node.path);
    if (!choice) {
      record(node.path, Leaf::Outcome::bounded);
      accept(node.path);
      return !options_.any;
    }
    Node later{bound, ++created_, node.path, program_.warm_start()};
    later.path.push_back(choice->second);
    open_.push(std::move(later));
    node.bound = bound;
    node.path.push_back(choice->first);
  }
}

void Search::finish() {
  double bound = result_.has_blend ? result_.cost : infinity;
  if (stopped_) bound = std::min(bound, abandoned_bound_);
  if (stopped_ && !open_.empty()) bound = std::min(bound, open_.top().bound);
  result_.lower_bound = bound;
  if (stopped_)
    result_.status = *stopped_;
  else
    result_.status = result_.has_blend ? SearchStatus::optimal : SearchStatus::infeasible;
}

SearchResult Search::run() {
  bool going = true;
  if (options_.leaves.empty())
    going = explore({});
  else
    open_leaves();
  while (going && !open_.empty()) {
    Node node = open_.top();
    open_.pop();
    if (node.bound >= worth_beating() && !options_.record_leaves) break;  // best first: all are
    if (!node.start.empty()) program_.set_warm_start(node.start);
    going = explore(std::move(node));
  }
  if (!going && options_.any && result_.has_blend) stopped_.reset();
  finish();
  return std::move(result_);
}

}  // namespace

namespace {

SearchResult nothing_possible() {
  SearchResult result;
  result.status = SearchStatus::infeasible;
  result.lower_bound = infinity;
  return result;
}

}  // namespace

SearchResult search(const model::Model& model, const SearchOptions& options) {
  if (model::bounds_cross(model)) return nothing_possible();
  return Search(model, options).run();
}

}  // namespace leastwise::solver
