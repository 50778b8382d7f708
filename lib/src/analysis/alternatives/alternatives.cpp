#include <leastwise/alternatives.hpp>

#include <algorithm>
#include <stdexcept>

#include "analysis/alternatives/alternatives_tree.hpp"
#include "solve/audit.hpp"
#include "solve/landscape.hpp"

namespace leastwise {
namespace {

using insight::NodeOutcome;
using insight::TreeNode;
using solver::SearchStatus;

/// A set of columns and the cheapest blend it was seen with.
struct Candidate {
  std::vector<int> set{};  ///< ascending
  double cost = 0;
  std::vector<double> x{};
};

bool is_part_of(const Candidate& part, const Candidate& whole) {
  return std::includes(whole.set.begin(), whole.set.end(), part.set.begin(), part.set.end());
}

/// Walks all parts of the search in the order of their bounds and settles which sets are listed.
class SetSearch {
 public:
  SetSearch(const model::Model& model, const solver::SearchOptions& options,
            const ProgressCallback& progress)
      : model_(model), nodes_(model, options), progress_(progress) {}

  /// Returns: false when a limit struck; what is listed is in order and complete all the same.
  bool run(std::size_t count);
  [[nodiscard]] const std::vector<Candidate>& listed() const { return listed_; }
  [[nodiscard]] bool exhausted() const { return open_.empty() && waiting_.empty(); }
  [[nodiscard]] long solves() const { return nodes_.solves(); }
  [[nodiscard]] SearchStatus status() const { return status_; }

 private:
  bool expand(TreeNode node);
  void divide(const TreeNode& node, const std::vector<int>& set);
  void push(TreeNode node);
  void remember(std::vector<int> set);
  void settle(std::size_t count);

  const model::Model& model_;
  insight::NodeSolver nodes_;
  const ProgressCallback& progress_;
  insight::OpenNodes open_{};
  std::vector<Candidate> waiting_{};  ///< seen, but something as cheap may still turn up
  std::vector<Candidate> listed_{};
  SearchStatus status_ = SearchStatus::optimal;
};

void SetSearch::push(TreeNode node) {
  node.start = nodes_.warm_start();
  open_.push(std::move(node));
}

bool SetSearch::expand(TreeNode node) {
  switch (nodes_.solve(node)) {
    case NodeOutcome::infeasible:
      return true;
    case NodeOutcome::time_limit:
      status_ = SearchStatus::time_limit;
      return false;
    case NodeOutcome::cancelled:
      status_ = SearchStatus::cancelled;
      return false;
    case NodeOutcome::failed:
      status_ = SearchStatus::failed;
      return false;
    case NodeOutcome::solved:
      break;
  }
  node.bound = std::max(node.bound, nodes_.bound());
  if (const auto choice = nodes_.branch(node.path)) {
    push(insight::deciding(node, choice->first));
    push(insight::deciding(node, choice->second));
    return true;
  }
  auto set = insight::support_of(model_, nodes_.x());
  divide(node, set);
  remember(std::move(set));
  return true;
}

/// One part for each material of `set`: the first of them that is lacking.
void SetSearch::divide(const TreeNode& node, const std::vector<int>& set) {
  std::optional<TreeNode> rest = node;
  for (const int column : set) {
    const bool demanded = std::find(node.in.begin(), node.in.end(), column) != node.in.end();
    if (demanded) continue;
    push(insight::without(*rest, column));
    rest = insight::demanding(model_, *rest, column);
    if (!rest) return;
  }
}

void SetSearch::remember(std::vector<int> set) {
  std::sort(set.begin(), set.end());
  const double cost = nodes_.cost();
  const auto same = std::find_if(waiting_.begin(), waiting_.end(),
                                 [&](const Candidate& c) { return c.set == set; });
  if (same == waiting_.end())
    waiting_.push_back({std::move(set), cost, nodes_.x()});
  else if (cost < same->cost)
    *same = {std::move(set), cost, nodes_.x()};
}

/// Lists what nothing that is still open can undercut or equal.
void SetSearch::settle(std::size_t count) {
  std::stable_sort(waiting_.begin(), waiting_.end(),
                   [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
  const double open = open_.best_bound();
  std::size_t settled = 0;
  for (; settled < waiting_.size() && listed_.size() < count; ++settled) {
    const auto& candidate = waiting_[settled];
    const double ceiling = candidate.cost + insight::cost_tolerance(candidate.cost);
    if (open <= ceiling) break;
    const bool redundant =
        std::any_of(listed_.begin(), listed_.end(),
                    [&](const Candidate& c) { return is_part_of(c, candidate); }) ||
        std::any_of(waiting_.begin(), waiting_.end(), [&](const Candidate& c) {
          return &c != &candidate && c.set.size() < candidate.set.size() && c.cost <= ceiling &&
                 is_part_of(c, candidate);
        });
    if (!redundant) listed_.push_back(candidate);
  }
  waiting_.erase(waiting_.begin(), waiting_.begin() + static_cast<std::ptrdiff_t>(settled));
}

bool SetSearch::run(std::size_t count) {
  open_.push({});
  while (!open_.empty() && listed_.size() < count) {
    if (!expand(open_.pop())) return false;
    const std::size_t before = listed_.size();
    settle(count);
    if (progress_ && listed_.size() > before)
      progress_({"blends", static_cast<long>(listed_.size()), static_cast<long>(count)});
  }
  settle(count);
  return true;
}

Alternative alternative(const Scenario& scenario, const model::Model& model,
                        const Candidate& candidate) {
  Alternative line;
  for (const int j : candidate.set)
    line.materials.push_back(
        scenario
            .materials()[static_cast<std::size_t>(model.material_of[static_cast<std::size_t>(j)])]
            .name);
  line.cost = candidate.cost;
  line.blend = insight::blend_of(scenario, insight::kg_of(scenario, model, candidate.x));
  return line;
}

}  // namespace

Alternatives alternatives(const Scenario& scenario, int count, const SolveLimits& limits) {
  if (count < 1) throw std::invalid_argument("the number of blends must be at least 1");
  const auto model = model::build(scenario);
  const auto options = insight::counted_search_options(limits);
  Alternatives result;
  result.title = scenario.title();
  result.currency = scenario.currency();
  result.basis = scenario.basis();
  result.notes.assign(scenario.notes().begin(), scenario.notes().end());
  auto status = SearchStatus::infeasible;
  if (!model::bounds_cross(model)) {
    SetSearch search(model, options, limits.progress);
    const bool complete = search.run(static_cast<std::size_t>(count));
    result.solves = search.solves();
    result.exhausted = complete && search.exhausted();
    status = complete && search.listed().empty() ? SearchStatus::infeasible : search.status();
    for (const auto& candidate : search.listed()) {
      if (insight::audit(scenario, insight::kg_of(scenario, model, candidate.x)) >
          solver::certificate_tolerance) {
        status = SearchStatus::failed;
        break;
      }
      result.list.push_back(alternative(scenario, model, candidate));
      result.list.back().difference = result.list.back().cost - result.list.front().cost;
    }
  }
  result.ending = insight::ending_of(scenario, model, status, limits, options,
                                     insight::what_is_finished(!result.list.empty()));
  return result;
}

}  // namespace leastwise
