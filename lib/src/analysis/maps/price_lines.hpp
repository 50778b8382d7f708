#pragma once
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "solve/answer_parts.hpp"

namespace leastwise::analysis {

/// One recipe as a function of prices: cost = fixed + sum of slope[k] * price[k].
struct Recipe {
  std::vector<double> kg{};     ///< along Scenario::materials()
  double fixed = 0;             ///< cost at prices of zero
  std::vector<double> slope{};  ///< one per priced material: tonnes of it, per ha or per t

  [[nodiscard]] double cost_at(const std::vector<double>& prices) const;
};

/// A scenario whose prices of one or two materials move: answers which recipe is cheapest where.
class PricedScenario {
 public:
  /// Throws: std::out_of_range for an unknown material.
  PricedScenario(const Scenario& scenario, std::vector<std::string_view> materials,
                 const SolveOptions& limits);

  /// The cheapest recipe at `prices`; nothing when none is cheaper than `cutoff`, or when the
  /// search ended without proof: then `status()` is not optimal.
  [[nodiscard]] std::optional<Recipe> cheapest(const std::vector<double>& prices,
                                               double cutoff = model::infinity);

  [[nodiscard]] bool stopped() const { return stopped_; }
  [[nodiscard]] long solves() const { return solves_; }
  /// After an answer of nothing without cutoff, or a stop.
  [[nodiscard]] Outcome outcome(std::string_view finished) const;
  [[nodiscard]] double share_percent(const Recipe& recipe, std::size_t k) const;
  [[nodiscard]] Blend blend_at(const Recipe& recipe, const std::vector<double>& prices) const;

 private:
  const Scenario& scenario_;
  std::vector<std::string_view> materials_;
  const SolveOptions& limits_;
  solver::SearchOptions options_;
  model::Model model_;
  std::vector<int> columns_{};       ///< -1: the form keeps the material out
  std::vector<double> cost_rest_{};  ///< cost per kg beside the price: freight, binder, fee
  solver::SearchStatus status_ = solver::SearchStatus::optimal;
  bool stopped_ = false;
  long solves_ = 0;
};

/// Throws: std::invalid_argument unless prices may lie in [from, to].
void require_price_range(const Scenario& scenario, double from, double to);

}  // namespace leastwise::analysis
