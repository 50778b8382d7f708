#include "solver/search.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <queue>
#include <utility>

#include "solver/branching.hpp"
#include "solver/certificate.hpp"

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

/// How one linear program of the search ended.
enum class NodeOutcome { solved, infeasible, time_limit, failed };

class Search {
 public:
  Search(const model::Model& model, const SearchOptions& options)
      : model_(model),
        options_(options),
        branching_(model),
        data_(relaxation(model)),
        program_(data_),
        cutoff_(options.cutoff) {}

  SearchResult run();
  SearchResult run_branch(const std::vector<Decision>& path);

 private:
  bool explore(Node node);
  NodeOutcome solve_node(std::span<const Decision> path);
  NodeOutcome settle(LinearStatus status);
  bool verified();
  NodeOutcome prove();
  void lay_bounds(std::span<const Decision> path);
  void accept(std::span<const Decision> path);
  void record(std::span<const Decision> path, Leaf::Outcome outcome);
  [[nodiscard]] double worth_beating() const {
    return std::isfinite(cutoff_) ? cutoff_ - improvement * std::max(1.0, std::fabs(cutoff_))
                                  : infinity;
  }
  bool stop(SearchStatus status) {
    stopped_ = status;
    return false;
  }
  void finish();

  const model::Model& model_;
  const SearchOptions& options_;
  Branching branching_;
  LinearData data_;  ///< with the bounds of the node at hand
  LinearProgram program_;
  NodeBounds bounds_{};
  double cutoff_;
  std::priority_queue<Node, std::vector<Node>, DearerFirst> open_{};
  long created_ = 0;
  std::optional<SearchStatus> stopped_{};
  double abandoned_bound_ = infinity;  ///< of the node at hand when a limit struck
  SearchResult result_{};

  // Of the node solved last.
  std::vector<double> x_{};
  std::vector<double> y_{};
  DualProof proof_{};
  double violation_ = 0;
};

void Search::lay_bounds(std::span<const Decision> path) {
  branching_.apply(path, bounds_);
  if (bounds_.contradictory) return;
  for (std::size_t j = 0; j < data_.lower.size(); ++j) {
    if (data_.lower[j] == bounds_.lower[j] && data_.upper[j] == bounds_.upper[j]) continue;
    data_.lower[j] = bounds_.lower[j];
    data_.upper[j] = bounds_.upper[j];
    program_.set_column_bounds(static_cast<int>(j), bounds_.lower[j], bounds_.upper[j]);
  }
  for (std::size_t k = 0; k < model_.minima.size(); ++k) {
    if (model_.minima[k].row < 0 || !model_.minima[k].active) continue;
    const auto row = static_cast<std::size_t>(model_.minima[k].row);
    const double lower = bounds_.minimum_on[k] ? 0 : -infinity;
    if (data_.row_lower[row] == lower) continue;
    data_.row_lower[row] = lower;
    program_.set_row_bounds(model_.minima[k].row, lower, infinity);
  }
}

/// Recomputes everything about the solution from the model's own numbers.
bool Search::verified() {
  x_.assign(program_.values().begin(), program_.values().end());
  y_.assign(program_.duals().begin(), program_.duals().end());
  const double nothing = used_threshold(x_);
  for (std::size_t j = 0; j < x_.size(); ++j)
    if (x_[j] <= nothing && data_.lower[j] == 0) x_[j] = 0;
  clean_duals(data_, y_);
  violation_ = primal_violation(data_, x_);
  proof_ = dual_proof(data_, y_);
  return violation_ <= certificate_tolerance && proof_.violation <= certificate_tolerance;
}

/// No claim of infeasibility is taken on the solver's word, and none from a worn factorisation.
NodeOutcome Search::prove() {
  y_ = program_.infeasibility_multipliers();
  if (!y_.empty() && contradicts(data_, y_)) return NodeOutcome::infeasible;
  y_ = prove_infeasible(data_, options_.deadline);
  if (!y_.empty()) return NodeOutcome::infeasible;
  program_ = LinearProgram(data_);
  const auto status = program_.solve(options_.deadline);
  if (status == LinearStatus::time_limit) return NodeOutcome::time_limit;
  return status == LinearStatus::optimal && verified() ? NodeOutcome::solved : NodeOutcome::failed;
}

NodeOutcome Search::settle(LinearStatus status) {
  if (status == LinearStatus::time_limit) return NodeOutcome::time_limit;
  if (status == LinearStatus::infeasible) return prove();
  if (status == LinearStatus::optimal && verified()) return NodeOutcome::solved;
  program_ = LinearProgram(data_);
  const auto again = program_.solve(options_.deadline);
  if (again == LinearStatus::time_limit) return NodeOutcome::time_limit;
  if (again == LinearStatus::infeasible) return prove();
  return again == LinearStatus::optimal && verified() ? NodeOutcome::solved : NodeOutcome::failed;
}

NodeOutcome Search::solve_node(std::span<const Decision> path) {
  ++result_.nodes;
  lay_bounds(path);
  if (bounds_.contradictory) {
    y_.clear();
    return NodeOutcome::infeasible;
  }
  return settle(program_.solve(options_.deadline));
}

void Search::record(std::span<const Decision> path, Leaf::Outcome outcome) {
  if (options_.record_leaves) result_.leaves.push_back({{path.begin(), path.end()}, outcome, y_});
}

void Search::accept(std::span<const Decision> path) {
  double cost = 0;
  for (std::size_t j = 0; j < x_.size(); ++j) cost += data_.cost[j] * x_[j];
  cutoff_ = cost;
  result_.has_blend = true;
  result_.x = x_;
  result_.y = y_;
  result_.cost = cost;
  result_.leaf = data_;
  result_.path.assign(path.begin(), path.end());
  result_.primal_violation = violation_;
  result_.dual_violation = proof_.violation;
  result_.column_standing.resize(x_.size());
  result_.row_standing.resize(y_.size());
  for (std::size_t j = 0; j < x_.size(); ++j)
    result_.column_standing[j] = program_.column_standing(static_cast<int>(j));
  for (std::size_t i = 0; i < y_.size(); ++i)
    result_.row_standing[i] = program_.row_standing(static_cast<int>(i));
}

/// Follows one node down to where it ends, leaving the other branches open. False: stop at once.
bool Search::explore(Node node) {
  for (;;) {
    abandoned_bound_ = node.bound;
    if (options_.stop.stop_requested()) return stop(SearchStatus::cancelled);
    if (options_.deadline && std::chrono::steady_clock::now() >= *options_.deadline)
      return stop(SearchStatus::time_limit);
    switch (solve_node(node.path)) {
      case NodeOutcome::time_limit:
        return stop(SearchStatus::time_limit);
      case NodeOutcome::failed:
        return stop(SearchStatus::failed);
      case NodeOutcome::infeasible:
        record(node.path, Leaf::Outcome::infeasible);
        return true;
      case NodeOutcome::solved:
        break;
    }
    const double bound = std::max(node.bound, proof_.bound);
    if (proof_.bound >= worth_beating()) {
      record(node.path, Leaf::Outcome::bounded);
      return true;
    }
    const auto choice = branching_.branch(x_, node.path);
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
  bool going = explore({});
  while (going && !open_.empty()) {
    Node node = open_.top();
    open_.pop();
    if (node.bound >= worth_beating() && !options_.record_leaves) break;  // best first: all are
    program_.set_warm_start(node.start);
    going = explore(std::move(node));
  }
  if (!going && options_.any && result_.has_blend) stopped_.reset();
  finish();
  return std::move(result_);
}

SearchResult Search::run_branch(const std::vector<Decision>& path) {
  switch (solve_node(path)) {
    case NodeOutcome::solved:
      accept(path);
      break;
    case NodeOutcome::infeasible:
      break;
    case NodeOutcome::time_limit:
      stop(SearchStatus::time_limit);
      break;
    case NodeOutcome::failed:
      stop(SearchStatus::failed);
      break;
  }
  finish();
  return std::move(result_);
}

}  // namespace

namespace {

/// A row or column whose minimum lies above its maximum: two rules that need no solver to clash.
bool bounds_cross(const model::Model& model) {
  for (std::size_t i = 0; i < model.row_lower.size(); ++i)
    if (model.row_lower[i] > model.row_upper[i]) return true;
  for (std::size_t j = 0; j < model.column_lower.size(); ++j)
    if (model.column_lower[j] > model.column_upper[j]) return true;
  return false;
}

SearchResult nothing_possible() {
  SearchResult result;
  result.status = SearchStatus::infeasible;
  result.lower_bound = infinity;
  return result;
}

}  // namespace

SearchResult solve_branch(const model::Model& model, const std::vector<Decision>& path,
                          const Deadline& deadline) {
  if (bounds_cross(model)) return nothing_possible();
  SearchOptions options;
  options.deadline = deadline;
  return Search(model, options).run_branch(path);
}

SearchResult search(const model::Model& model, const SearchOptions& options) {
  if (bounds_cross(model)) return nothing_possible();
  return Search(model, options).run();
}

}  // namespace leastwise::solver
