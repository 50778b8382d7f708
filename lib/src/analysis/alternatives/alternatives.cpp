#include <leastwise/alternatives.hpp>

#include <algorithm>
#include <stdexcept>

#include "analysis/alternatives/alternatives_tree.hpp"
#include "solve/answer_parts.hpp"
#include "solve/audit.hpp"

namespace leastwise {
namespace {

using solver::SearchStatus;
using solver::Step;
using solver::TreeNode;

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
class SetSearch : solver::BranchAndBound {
 public:
  SetSearch(const model::Model& model, const solver::SearchOptions& options, std::size_t count,
            const ProgressCallback& progress)
      : BranchAndBound(model, options), model_(model), count_(count), progress_(progress) {}

  /// Returns: false when a limit struck; what is listed is in order and complete all the same.
  bool run();
  [[nodiscard]] const std::vector<Candidate>& listed() const { return listed_; }
  [[nodiscard]] bool exhausted() const { return all_closed() && waiting_.empty(); }
  using BranchAndBound::solves;
  [[nodiscard]] SearchStatus status() const { return stopped().value_or(SearchStatus::optimal); }

 private:
  bool goes_on() override;
  Step divide(TreeNode& node) override;
  void divide(const TreeNode& node, const std::vector<int>& set);
  void remember(std::vector<int> set);
  void settle();

  const model::Model& model_;
  std::size_t count_;
  const ProgressCallback& progress_;
  std::vector<Candidate> waiting_{};  ///< seen, but something as cheap may still turn up
  std::vector<Candidate> listed_{};
};

Step SetSearch::divide(TreeNode& node) {
  if (leave_sides_open(node)) return Step::close;
  auto set = analysis::support_of(model_, x());
  divide(node, set);
  remember(std::move(set));
  return Step::close;
}

/// One part for each material of `set`: the first of them that is lacking.
void SetSearch::divide(const TreeNode& node, const std::vector<int>& set) {
  std::optional<TreeNode> rest = node;
  for (const int column : set) {
    const bool demanded = std::find(node.in.begin(), node.in.end(), column) != node.in.end();
    if (demanded) continue;
    leave_open(analysis::without(*rest, column));
    rest = analysis::demanding(model_, *rest, column);
    if (!rest) return;
  }
}

void SetSearch::remember(std::vector<int> set) {
  std::sort(set.begin(), set.end());
  const double cost = this->cost();
  const auto same = std::find_if(waiting_.begin(), waiting_.end(),
                                 [&](const Candidate& c) { return c.set == set; });
  if (same == waiting_.end())
    waiting_.push_back({std::move(set), cost, x()});
  else if (cost < same->cost)
    *same = {std::move(set), cost, x()};
}

/// Lists what nothing that is still open can undercut or equal.
void SetSearch::settle() {
  std::stable_sort(waiting_.begin(), waiting_.end(),
                   [](const Candidate& a, const Candidate& b) { return a.cost < b.cost; });
  const double open = best_open_bound();
  std::size_t settled = 0;
  for (; settled < waiting_.size() && listed_.size() < count_; ++settled) {
    const auto& candidate = waiting_[settled];
    const double ceiling = candidate.cost + solve::cost_tolerance(candidate.cost);
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

bool SetSearch::goes_on() {
  const std::size_t before = listed_.size();
  settle();
  if (progress_ && listed_.size() > before)
    progress_({"blends", static_cast<long>(listed_.size()), static_cast<long>(count_)});
  return listed_.size() < count_;
}

bool SetSearch::run() {
  open({});
  if (!BranchAndBound::run()) return false;
  static_cast<void>(goes_on());  // nothing is open any more: what waits is settled
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
  line.blend = solve::blend_of(scenario, solve::kg_of(scenario, model, candidate.x));
  return line;
}

}  // namespace

Alternatives alternatives(const Scenario& scenario, int count, const SolveOptions& limits) {
  if (count < 1) throw std::invalid_argument("the number of blends must be at least 1");
  solve::require_one_price(scenario, "a list of blends");
  const auto model = model::build(scenario);
  const auto options = solve::counted_search_options(limits);
  Alternatives result;
  result.title = scenario.title();
  result.currency = scenario.currency();
  result.units = scenario.draft().units;
  result.basis = scenario.basis();
  result.notes.assign(scenario.notes().begin(), scenario.notes().end());
  auto status = SearchStatus::infeasible;
  if (!model::bounds_cross(model)) {
    SetSearch search(model, options, static_cast<std::size_t>(count), limits.progress);
    const bool complete = search.run();
    result.solves = search.solves();
    result.exhausted = complete && search.exhausted();
    status = complete && search.listed().empty() ? SearchStatus::infeasible : search.status();
    for (const auto& candidate : search.listed()) {
      if (solve::audit(scenario, solve::kg_of(scenario, model, candidate.x)) >
          solver::certificate_tolerance) {
        status = SearchStatus::failed;
        break;
      }
      result.list.push_back(alternative(scenario, model, candidate));
      result.list.back().difference = result.list.back().cost - result.list.front().cost;
    }
  }
  result.outcome = solve::outcome_of(scenario, model, status, limits, options,
                                     solve::what_is_finished(!result.list.empty()));
  return result;
}

}  // namespace leastwise
