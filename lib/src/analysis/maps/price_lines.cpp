#include "analysis/maps/price_lines.hpp"

#include <cmath>
#include <stdexcept>
#include <string>

#include "base/text/wording.hpp"
#include "scenario/checks.hpp"
#include "scenario/units.hpp"

namespace leastwise::analysis {

double Recipe::cost_at(const std::vector<double>& prices) const {
  double cost = fixed;
  for (std::size_t k = 0; k < prices.size(); ++k) cost += slope[k] * prices[k];
  return cost;
}

PricedScenario::PricedScenario(const Scenario& scenario, std::vector<std::string_view> materials,
                               const SolveOptions& limits)
    : scenario_(scenario),
      materials_(std::move(materials)),
      limits_(limits),
      options_(solve::counted_search_options(limits)),
      model_(model::build(scenario)) {
  for (const auto name : materials_) {
    const auto i = scenario.index_of(name);
    if (!i) throw std::out_of_range("the scenario has no material " + in_quotes(name));
    if (!scenario.materials()[*i].price_tiers.empty())
      solve::require_one_price(scenario, "a map of prices");
    columns_.push_back(solve::column_of(scenario, model_, name));
    cost_rest_.push_back(scenario.cost_per_kg(*i) -
                         scenario.materials()[*i].price_per_t / kg_per_tonne);
  }
}

std::optional<Recipe> PricedScenario::cheapest(const std::vector<double>& prices, double cutoff) {
  for (std::size_t k = 0; k < columns_.size(); ++k)
    if (columns_[k] >= 0)
      model_.cost[static_cast<std::size_t>(columns_[k])] = cost_rest_[k] + prices[k] / kg_per_tonne;
  auto options = options_;
  options.cutoff = cutoff;
  ++solves_;
  const auto found = solve::checked_search(scenario_, model_, options);
  status_ = found.status;
  stopped_ =
      status_ != solver::SearchStatus::optimal && status_ != solver::SearchStatus::infeasible;
  if (status_ != solver::SearchStatus::optimal) return std::nullopt;
  Recipe recipe;
  recipe.kg = solve::kg_of(scenario_, model_, found.x);
  recipe.fixed = found.cost;
  for (std::size_t k = 0; k < columns_.size(); ++k) {
    recipe.slope.push_back(
        columns_[k] < 0 ? 0.0 : found.x[static_cast<std::size_t>(columns_[k])] / kg_per_tonne);
    recipe.fixed -= recipe.slope[k] * prices[k];
  }
  return recipe;
}

Outcome PricedScenario::outcome(std::string_view finished) const {
  return solve::outcome_of(scenario_, model_, status_, limits_, options_, finished);
}

double PricedScenario::share_percent(const Recipe& recipe, std::size_t k) const {
  double total = 0;
  for (std::size_t i = 0; i < recipe.kg.size(); ++i)
    total += scenario_.mass_factor(i) * recipe.kg[i];
  return total > 0 ? recipe.slope[k] * kg_per_tonne / total * 100 : 0;
}

Blend PricedScenario::blend_at(const Recipe& recipe, const std::vector<double>& prices) const {
  Scenario priced = scenario_;
  for (std::size_t k = 0; k < prices.size(); ++k)
    priced = priced.with_price(materials_[k], prices[k]);
  return solve::blend_of(priced, recipe.kg);
}

void require_price_range(const Scenario& scenario, double from, double to) {
  if (!std::isfinite(from) || !std::isfinite(to) || std::fabs(from) > largest_number ||
      std::fabs(to) > largest_number)
    throw std::invalid_argument("prices must be numbers between -1e9 and 1e9, found " +
                                number_text(from) + " to " + number_text(to));
  if (!(from < to))
    throw std::invalid_argument("an interval of prices must rise, found " + number_text(from) +
                                " to " + number_text(to));
  const bool bounded = scenario.basis() == Basis::per_tonne || scenario.total_kg_per_ha().has_max();
  if (from < 0 && !bounded)
    throw std::invalid_argument(
        "prices below 0 need a maximum of total_kg_per_ha, or the cost has no end");
}

}  // namespace leastwise::analysis
