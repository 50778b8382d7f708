#include <leastwise/alternatives.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "analysis/alternatives/alternatives_tree.hpp"
#include "base/text/wording.hpp"
#include "model/model_edit.hpp"
#include "solve/answer_parts.hpp"
#include "solve/audit.hpp"

namespace leastwise {
namespace {

using solver::SearchStatus;
using solver::Step;
using solver::TreeNode;

/// What a search for a wish ended with.
struct Wished {
  SearchStatus status = SearchStatus::failed;
  std::vector<double> x{};
  long solves = 0;
};

/// Adds the row `coefficients`.x <= `most`.
void add_ceiling(model::Model& model, const std::vector<double>& coefficients, double most) {
  std::vector<model::Entry> row;
  for (std::size_t j = 0; j < coefficients.size(); ++j)
    if (coefficients[j] != 0) row.push_back({static_cast<int>(j), coefficients[j]});
  model::ModelEdit(model).add_row(std::move(row), -model::infinity, most);
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
  add_ceiling(cheapest, wish, first.cost + solve::cost_tolerance(first.cost));
  const auto second = solver::search(cheapest, options);
  if (second.status != SearchStatus::optimal) return {second.status, {}, 2};
  return {second.status, second.x, 2};
}

/// Searches for the cheapest blend of at most so many materials.
class FewSearch : solver::BranchAndBound {
 public:
  FewSearch(const model::Model& model, double cost_limit, const solver::SearchOptions& options)
      : BranchAndBound(model, options), model_(model), cost_limit_(cost_limit) {}

  /// `infeasible`: none within the cost limit.
  SearchStatus run(std::size_t most);
  [[nodiscard]] const std::vector<double>& best() const { return best_; }
  using BranchAndBound::solves;

 private:
  bool goes_on() override { return best_open_bound() <= worth_; }
  Step divide(TreeNode& node) override;
  void divide(const TreeNode& node, const std::vector<int>& set);

  const model::Model& model_;
  double cost_limit_;
  std::size_t most_ = 0;  ///< materials
  double worth_ = 0;      ///< what a blend may cost to be of interest
  std::vector<double> best_{};
};

/// The most plentiful material that is not demanded yet is demanded, or left out.
void FewSearch::divide(const TreeNode& node, const std::vector<int>& set) {
  const auto undecided = std::find_if(set.begin(), set.end(), [&](int j) {
    return std::find(node.in.begin(), node.in.end(), j) == node.in.end();
  });
  leave_open(analysis::without(node, *undecided));
  auto with = analysis::demanding(model_, node, *undecided);
  if (!with) return;
  if (with->in.size() == most_)
    for (int j = 0; j < static_cast<int>(model_.material_of.size()); ++j)
      if (model_.material_of[static_cast<std::size_t>(j)] >= 0 &&
          std::find(with->in.begin(), with->in.end(), j) == with->in.end())
        with->changes.push_back({j, 0, 0});
  leave_open(std::move(*with));
}

Step FewSearch::divide(TreeNode& node) {
  if (node.bound > worth_) return Step::close;
  const auto set = analysis::support_of(model_, x());
  if (set.size() > most_) {
    divide(node, set);
  } else if (!leave_sides_open(node)) {
    best_ = x();
    worth_ = cost() - solve::cost_tolerance(cost());
  }
  return Step::close;
}

SearchStatus FewSearch::run(std::size_t most) {
  most_ = most;
  worth_ = cost_limit_;
  forget_open();
  open({});
  if (!BranchAndBound::run()) return *stopped();
  return best_.empty() ? SearchStatus::infeasible : SearchStatus::optimal;
}

Wished fewest(const model::Model& model, std::size_t at_best, double cost_limit,
              const solver::SearchOptions& options) {
  FewSearch search(model, cost_limit, options);
  for (std::size_t most = 1; most <= at_best; ++most) {
    const auto status = search.run(most);
    if (status == SearchStatus::infeasible) continue;
    return {status, search.best(), search.solves()};
  }
  return {SearchStatus::failed, {}, search.solves()};
}

/// What one kg of each column counts for in the wish; empty for the number of materials.
std::vector<double> weights(const Scenario& scenario, const model::Model& model,
                            SecondaryObjective wish, std::string_view of) {
  std::vector<double> list;
  if (wish == SecondaryObjective::fewest_materials) return list;
  for (const int i : model.material_of) {
    const auto k = static_cast<std::size_t>(i);
    list.push_back(i < 0 ? 0
                   : wish == SecondaryObjective::least_mass
                       ? scenario.mass_factor(k)
                       : content_percent(scenario.materials()[k], of) / 100);
  }
  return list;
}

void require(const Scenario& scenario, double within_percent, SecondaryObjective wish,
             const std::vector<double>& weight, std::string_view of) {
  if (!std::isfinite(within_percent) || within_percent < 0)
    throw std::invalid_argument("the allowance on the cost must be 0 percent or more, found " +
                                number_text(within_percent));
  if (wish == SecondaryObjective::least_mass && scenario.basis() == Basis::per_tonne)
    throw std::invalid_argument(
        "the least mass is a question about kg per hectare; a tonne always weighs a tonne");
  if (wish == SecondaryObjective::least_of &&
      std::all_of(weight.begin(), weight.end(), [](double w) { return w == 0; }))
    throw std::invalid_argument("no material that may enter contains " + in_quotes(of));
}

}  // namespace

std::string_view to_string(SecondaryObjective wish) {
  switch (wish) {
    case SecondaryObjective::fewest_materials:
      return "fewest materials";
    case SecondaryObjective::least_mass:
      return "least mass";
    case SecondaryObjective::least_of:
      break;
  }
  return "least of";
}

NearOptimum near_optimum(const Scenario& scenario, double within_percent, SecondaryObjective wish,
                         std::string_view of, const SolveOptions& limits) {
  solve::require_one_price(scenario, "a search near the cheapest blend");
  const auto model = model::build(scenario);
  const auto weight = weights(scenario, model, wish, of);
  require(scenario, within_percent, wish, weight, of);
  const auto options = solve::counted_search_options(limits);
  NearOptimum answer;
  answer.title = scenario.title();
  answer.currency = scenario.currency();
  answer.units = scenario.draft().units;
  answer.basis = scenario.basis();
  answer.notes.assign(scenario.notes().begin(), scenario.notes().end());
  answer.wish = wish;
  answer.of = std::string(wish == SecondaryObjective::least_of ? of : std::string_view{});
  answer.within_percent = within_percent;
  const auto value = [&](const std::vector<double>& x) {
    return weight.empty() ? static_cast<double>(analysis::support_of(model, x).size())
                          : product(weight, x);
  };
  const auto best = solve::checked_search(scenario, model, solver::asked(options));
  answer.solves = 1;
  if (best.status != SearchStatus::optimal) {
    answer.outcome =
        solve::outcome_of(scenario, model, best.status, limits, options, solve::nothing_finished);
    return answer;
  }
  answer.best_cost = best.cost;
  answer.best = solve::blend_of(scenario, solve::kg_of(scenario, model, best.x));
  const double value_at_best = value(best.x);
  answer.value_at_best = value_at_best;
  const double most = best.cost + within_percent / 100 * std::fabs(best.cost);
  answer.cost_limit = most;
  const double cost_limit = most + solve::cost_tolerance(most);
  auto wished = weight.empty()
                    ? fewest(model, static_cast<std::size_t>(value_at_best), cost_limit, options)
                    : least(model, weight, cost_limit, options);
  answer.solves += wished.solves;
  if (wished.status == SearchStatus::infeasible)
    wished.status = SearchStatus::failed;  // the cheapest blend itself is within the limit
  if (wished.status == SearchStatus::optimal) {
    const auto kg = solve::kg_of(scenario, model, wished.x);
    if (solve::audit(scenario, kg) > solver::certificate_tolerance) {
      wished.status = SearchStatus::failed;
    } else {
      answer.blend = solve::blend_of(scenario, kg);
      answer.value = value(wished.x);
      answer.cost = product(model.cost, wished.x);
    }
  }
  answer.outcome =
      solve::outcome_of(scenario, model, wished.status, limits, options,
                        "the cheapest blend is proved, the one wished for is not found");
  return answer;
}

}  // namespace leastwise
