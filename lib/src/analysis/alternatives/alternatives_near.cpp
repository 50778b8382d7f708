#include <leastwise/alternatives.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "analysis/alternatives/alternatives_tree.hpp"
#include "base/text/wording.hpp"
#include "solve/audit.hpp"
#include "solve/landscape.hpp"

namespace leastwise {
namespace {

using insight::NodeOutcome;
using insight::TreeNode;
using solver::SearchStatus;

/// What a search for a wish ended with.
struct Wished {
  SearchStatus status = SearchStatus::failed;
  std::vector<double> x{};
  long solves = 0;
};

/// Adds the row `coefficients`.x <= `most`.
void add_ceiling(model::Model& model, const std::vector<double>& coefficients, double most) {
  for (std::size_t j = 0; j < coefficients.size(); ++j)
    if (coefficients[j] != 0) model.entries.push_back({static_cast<int>(j), coefficients[j]});
  model.row_start.push_back(static_cast<int>(model.entries.size()));
  model.row_lower.push_back(-model::infinity);
  model.row_upper.push_back(most);
  ++model.rows;
}

double product(const std::vector<double>& a, const std::vector<double>& b) {
  double sum = 0;
  for (std::size_t j = 0; j < a.size(); ++j) sum += a[j] * b[j];
  return sum;
}

/// The least of `wish`.x within the cost limit, then the cheapest with that.
Wished least(const model::Model& model, const std::vector<double>& wish, double cost_limit,
             const solver::SearchOptions& options) {
  auto wishing = model;
  add_ceiling(wishing, model.cost, cost_limit);
  wishing.cost = wish;
  const auto first = solver::search(wishing, options);
  if (first.status != SearchStatus::optimal) return {first.status, {}, 1};
  auto cheapest = model;
  add_ceiling(cheapest, wish, first.cost + insight::cost_tolerance(first.cost));
  const auto second = solver::search(cheapest, options);
  if (second.status != SearchStatus::optimal) return {second.status, {}, 2};
  return {second.status, second.x, 2};
}

/// Searches for the cheapest blend of at most so many materials.
class FewSearch {
 public:
  FewSearch(const model::Model& model, double cost_limit, const solver::SearchOptions& options)
      : model_(model), cost_limit_(cost_limit), nodes_(model, options) {}

  /// `infeasible`: none within the cost limit.
  SearchStatus run(std::size_t most);
  [[nodiscard]] const std::vector<double>& x() const { return best_; }
  [[nodiscard]] long solves() const { return nodes_.solves(); }

 private:
  void divide(const TreeNode& node, const std::vector<int>& set, std::size_t most);
  void push(TreeNode node);

  const model::Model& model_;
  double cost_limit_;
  insight::NodeSolver nodes_;
  insight::OpenNodes open_{};
  std::vector<double> best_{};
};

void FewSearch::push(TreeNode node) {
  node.start = nodes_.warm_start();
  open_.push(std::move(node));
}

/// The most plentiful material that is not demanded yet is demanded, or left out.
void FewSearch::divide(const TreeNode& node, const std::vector<int>& set, std::size_t most) {
  const auto undecided = std::find_if(set.begin(), set.end(), [&](int j) {
    return std::find(node.in.begin(), node.in.end(), j) == node.in.end();
  });
  push(insight::without(node, *undecided));
  auto with = insight::demanding(model_, node, *undecided);
  if (!with) return;
  if (with->in.size() == most)
    for (int j = 0; j < static_cast<int>(model_.material_of.size()); ++j)
      if (model_.material_of[static_cast<std::size_t>(j)] >= 0 &&
          std::find(with->in.begin(), with->in.end(), j) == with->in.end())
        with->changes.push_back({j, 0, 0});
  push(std::move(*with));
}

SearchStatus FewSearch::run(std::size_t most) {
  open_ = {};
  open_.push({});
  double worth = cost_limit_;  // what a blend may cost to be of interest
  while (!open_.empty()) {
    auto node = open_.pop();
    if (node.bound > worth) break;
    switch (nodes_.solve(node)) {
      case NodeOutcome::infeasible:
        continue;
      case NodeOutcome::time_limit:
        return SearchStatus::time_limit;
      case NodeOutcome::cancelled:
        return SearchStatus::cancelled;
      case NodeOutcome::failed:
        return SearchStatus::failed;
      case NodeOutcome::solved:
        break;
    }
    node.bound = std::max(node.bound, nodes_.bound());
    if (node.bound > worth) continue;
    const auto set = insight::support_of(model_, nodes_.x());
    if (set.size() > most) {
      divide(node, set, most);
    } else if (const auto choice = nodes_.branch(node.path)) {
      push(insight::deciding(node, choice->first));
      push(insight::deciding(node, choice->second));
    } else {
      best_ = nodes_.x();
      worth = nodes_.cost() - insight::cost_tolerance(nodes_.cost());
    }
  }
  return best_.empty() ? SearchStatus::infeasible : SearchStatus::optimal;
}

Wished fewest(const model::Model& model, std::size_t at_best, double cost_limit,
              const solver::SearchOptions& options) {
  FewSearch search(model, cost_limit, options);
  for (std::size_t most = 1; most <= at_best; ++most) {
    const auto status = search.run(most);
    if (status == SearchStatus::infeasible) continue;
    return {status, search.x(), search.solves()};
  }
  return {SearchStatus::failed, {}, search.solves()};
}

/// What one kg of each column counts for in the wish; empty for the number of materials.
std::vector<double> weights(const Scenario& scenario, const model::Model& model, Wish wish,
                            std::string_view of) {
  std::vector<double> list;
  if (wish == Wish::fewest_materials) return list;
  for (const int i : model.material_of) {
    const auto k = static_cast<std::size_t>(i);
    list.push_back(i < 0                      ? 0
                   : wish == Wish::least_mass ? scenario.mass_factor(k)
                                              : content_percent(scenario.materials()[k], of) / 100);
  }
  return list;
}

void require(const Scenario& scenario, double within_percent, Wish wish,
             const std::vector<double>& weight, std::string_view of) {
  if (!std::isfinite(within_percent) || within_percent < 0)
    throw std::invalid_argument("the allowance on the cost must be 0 percent or more, found " +
                                number_text(within_percent));
  if (wish == Wish::least_mass && scenario.basis() == Basis::per_tonne)
    throw std::invalid_argument(
        "the least mass is a question about kg per hectare; a tonne always weighs a tonne");
  if (wish == Wish::least_of &&
      std::all_of(weight.begin(), weight.end(), [](double w) { return w == 0; }))
    throw std::invalid_argument("no material that may enter contains " + in_quotes(of));
}

}  // namespace

std::string_view to_string(Wish wish) {
  switch (wish) {
    case Wish::fewest_materials:
      return "fewest materials";
    case Wish::least_mass:
      return "least mass";
    case Wish::least_of:
      break;
  }
  return "least of";
}

NearOptimum near_optimum(const Scenario& scenario, double within_percent, Wish wish,
                         std::string_view of, const SolveLimits& limits) {
  const auto model = model::build(scenario);
  const auto weight = weights(scenario, model, wish, of);
  require(scenario, within_percent, wish, weight, of);
  const auto options = insight::counted_search_options(limits);
  NearOptimum answer;
  answer.title = scenario.title();
  answer.currency = scenario.currency();
  answer.basis = scenario.basis();
  answer.notes.assign(scenario.notes().begin(), scenario.notes().end());
  answer.wish = wish;
  answer.of = std::string(wish == Wish::least_of ? of : std::string_view{});
  answer.within_percent = within_percent;
  const auto value = [&](const std::vector<double>& x) {
    return weight.empty() ? static_cast<double>(insight::support_of(model, x).size())
                          : product(weight, x);
  };
  const auto best = insight::checked_search(scenario, model, solver::asked(options));
  answer.solves = 1;
  if (best.status != SearchStatus::optimal) {
    answer.ending = insight::ending_of(scenario, model, best.status, limits, options,
                                       insight::nothing_finished);
    return answer;
  }
  answer.best_cost = best.cost;
  answer.best = insight::blend_of(scenario, insight::kg_of(scenario, model, best.x));
  const double value_at_best = value(best.x);
  answer.value_at_best = value_at_best;
  const double most = best.cost + within_percent / 100 * std::fabs(best.cost);
  answer.cost_limit = most;
  const double cost_limit = most + insight::cost_tolerance(most);
  auto wished = weight.empty()
                    ? fewest(model, static_cast<std::size_t>(value_at_best), cost_limit, options)
                    : least(model, weight, cost_limit, options);
  answer.solves += wished.solves;
  if (wished.status == SearchStatus::infeasible)
    wished.status = SearchStatus::failed;  // the cheapest blend itself is within the limit
  if (wished.status == SearchStatus::optimal) {
    const auto kg = insight::kg_of(scenario, model, wished.x);
    if (insight::audit(scenario, kg) > solver::certificate_tolerance) {
      wished.status = SearchStatus::failed;
    } else {
      answer.blend = insight::blend_of(scenario, kg);
      answer.value = value(wished.x);
      answer.cost = product(model.cost, wished.x);
    }
  }
  answer.ending =
      insight::ending_of(scenario, model, wished.status, limits, options,
                         "the cheapest blend is proved, the one wished for is not found");
  return answer;
}

}  // namespace leastwise
