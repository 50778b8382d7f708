#include <leastwise/risk.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "analysis/risk/risk_run.hpp"
#include "analysis/risk/risk_summary.hpp"
#include "scenario/units.hpp"
#include "solve/answer.hpp"
#include "solve/answer_parts.hpp"
#include "solve/audit.hpp"
#include "solver/certificate.hpp"

namespace leastwise {
namespace {

using solver::SearchStatus;

PriceUncertainty asked(const Scenario& scenario) {
  if (!scenario.price_uncertainty())
    throw std::invalid_argument("the scenario does not say how uncertain its prices are");
  solve::require_one_price(scenario, "price risk");
  PriceUncertainty uncertainty = *scenario.price_uncertainty();
  for (const auto& spread : uncertainty.prices) {
    const auto i = scenario.index_of(spread.material);
    if (spread.shape == PriceShape::lognormal && i && scenario.materials()[*i].price_per_t <= 0)
      throw std::invalid_argument("a lognormal price must be above 0 today");
  }
  if (!uncertainty.draws) uncertainty.draws = default_draws;
  if (!uncertainty.seed) uncertainty.seed = 1;
  return uncertainty;
}

/// Says where few draws, or few dates, let the quantiles jump from one value to another far off.
void add_coarseness_note(PriceRisk& risk) {
  constexpr long few = 20;  // 1 of 20 is the 5 % of the least quantile
  const auto counted = [](long count, const char* what) {
    return "only " + std::to_string(count) + " " + what + (count == 1 ? "" : "s");
  };
  const long dates =
      risk.uncertainty.history ? static_cast<long>(risk.uncertainty.history->rows.size()) : few;
  std::string why;
  if (risk.draws < few)
    why = "there " + std::string(risk.draws == 1 ? "is " : "are ") + counted(risk.draws, "draw");
  if (dates < few)
    why += std::string(why.empty() ? "" : ", and ") + "the history has " + counted(dates, "date");
  if (!why.empty() && risk.draws > 0)
    risk.notes.push_back(
        {NoteLevel::info, NoteCode::few_draws, {}, "the 5 % and 95 % are coarse: " + why});
}

/// A stopped answer says how many draws it rests on.
std::string finished_words(const PriceRisk& risk) {
  const auto asked = std::to_string(*risk.uncertainty.draws);
  if (risk.draws == 0) return "not one of " + asked + " draws was finished";
  return std::to_string(risk.draws) + " of " + asked +
         " draws are finished and proved, and all figures are of these alone";
}

/// Fills the answer from the finished draws.
class RiskSummary {
 public:
  RiskSummary(const Scenario& scenario, const model::Model& model, analysis::RiskRun& run,
              PriceRisk& risk, unsigned threads)
      : scenario_(scenario), model_(model), run_(run), risk_(risk), threads_(threads) {}

  /// Returns: false when a recipe does not stand up against the scenario's own rules.
  bool tell(const std::vector<double>& today) {
    today_kg_ = solve::kg_of(scenario_, model_, today);
    number_recipes(run_.recipe_of(today));
    spreads();
    if (!recipes()) return false;
    materials();
    return true;
  }

 private:
  /// Most frequent first, then the one met first.
  void number_recipes(std::size_t today) {
    today_ = today;
    std::vector<long> count(run_.recipes().size(), 0);
    std::vector<std::size_t> first_met(count.size(), 0);
    for (const auto& drawn : run_.draws()) {
      if (++count[drawn.recipe] > 1) continue;
      first_met[drawn.recipe] = order_.size();
      order_.push_back(drawn.recipe);
    }
    number_.resize(count.size());
    std::sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
      return count[a] != count[b] ? count[a] > count[b] : first_met[a] < first_met[b];
    });
    for (std::size_t k = 0; k < order_.size(); ++k) {
      number_[order_[k]] = k;
      counts_.push_back(count[order_[k]]);
    }
  }

  void spreads() {
    risk_.each = run_.take_draws();
    for (auto& drawn : risk_.each) drawn.recipe = number_[drawn.recipe];
    risk_.draws = static_cast<long>(risk_.each.size());
    analysis::fill_spreads(risk_, threads_);
  }

  bool recipes() {
    const auto draws = static_cast<double>(risk_.draws);
    const auto rules = rules::rules_of(scenario_);
    for (std::size_t k = 0; k < order_.size(); ++k) {
      kg_.push_back(solve::kg_of(scenario_, model_, run_.recipes()[order_[k]]));
      if (solve::audit(scenario_, rules, kg_.back()) > solver::certificate_tolerance) return false;
      RiskRecipe recipe;
      recipe.draws = counts_[k];
      recipe.frequency_percent = 100 * static_cast<double>(counts_[k]) / draws;
      recipe.today = order_[k] == today_;
      recipe.portions = solve::portions_of(scenario_, kg_.back());
      recipe.cautions = solve::cautions_of(scenario_, kg_.back());
      risk_.recipes.push_back(std::move(recipe));
    }
    return true;
  }

  [[nodiscard]] double total_of(const std::vector<double>& kg) const {
    double total = 0;
    for (std::size_t i = 0; i < kg.size(); ++i) total += scenario_.mass_factor(i) * kg[i];
    return total;
  }

  void materials() {
    std::vector<double> mean(scenario_.materials().size(), 0.0);
    for (std::size_t i = 0; i < scenario_.materials().size(); ++i) {
      const auto& material = scenario_.materials()[i];
      RiskMaterial told;
      told.material = material.name;
      told.price_today = material.price_per_t;
      const auto& sums = run_.price_sums()[i];
      const auto n = static_cast<double>(risk_.draws);
      told.mean_price = material.price_per_t + sums.sum / n;
      if (risk_.draws > 1)
        told.price_deviation =
            std::sqrt(std::max(0.0, (sums.squares - sums.sum * sums.sum / n) / (n - 1)));
      long used = 0;
      double mean_kg = 0;
      for (std::size_t k = 0; k < kg_.size(); ++k) {
        if (kg_[k][i] <= 0) continue;
        const auto weight = static_cast<double>(counts_[k]) / n;
        used += counts_[k];
        mean_kg += weight * kg_[k][i];
        mean[i] += weight * kg_[k][i];
        told.mean_kg_per_t += weight * kg_[k][i] / total_of(kg_[k]) * kg_per_tonne;
      }
      told.frequency_percent = 100 * static_cast<double>(used) / n;
      told.kg_per_t_today = today_kg_[i] / total_of(today_kg_) * kg_per_tonne;
      if (scenario_.basis() == Basis::per_hectare) {
        told.kg_per_ha_today = today_kg_[i];
        told.mean_kg_per_ha = mean_kg;
      }
      if (used > 0 || today_kg_[i] > 0 || is_uncertain(material.name))
        risk_.materials.push_back(std::move(told));
    }
    risk_.mean_supply = solve::supply_of(scenario_, mean, total_of(mean));
  }

  [[nodiscard]] bool is_uncertain(const std::string& name) const {
    const auto& asked = risk_.uncertainty;
    return std::any_of(asked.prices.begin(), asked.prices.end(),
                       [&](const PriceSpread& p) { return p.material == name; }) ||
           (asked.history &&
            std::find(asked.history->materials.begin(), asked.history->materials.end(), name) !=
                asked.history->materials.end());
  }

  const Scenario& scenario_;
  const model::Model& model_;
  analysis::RiskRun& run_;
  PriceRisk& risk_;
  unsigned threads_;
  std::size_t today_ = 0;
  std::vector<double> today_kg_{};
  std::vector<std::size_t> order_{};  ///< recipes of the run as they are numbered in the answer
  std::vector<std::size_t> number_{};
  std::vector<long> counts_{};
  std::vector<std::vector<double>> kg_{};
};

}  // namespace

PriceRisk price_risk(const Scenario& scenario, const RiskOptions& options) {
  PriceRisk risk;
  risk.title = scenario.title();
  risk.currency = scenario.currency();
  risk.units = scenario.draft().units;
  risk.basis = scenario.basis();
  risk.uncertainty = asked(scenario);
  risk.notes.assign(scenario.notes().begin(), scenario.notes().end());
  const auto search = solve::search_options(options.limits);
  const auto model = model::build(scenario);
  const auto today = solve::checked_search(scenario, model, solver::asked(search));
  if (today.status != SearchStatus::optimal) {
    risk.outcome = solve::outcome_of(scenario, model, today.status, options.limits, search,
                                     finished_words(risk));
    return risk;
  }
  risk.today = solve::blend_of(scenario, solve::kg_of(scenario, model, today.x));
  risk.cost_today = today.cost;
  const analysis::PriceModel shared(model);
  analysis::RiskRun run(scenario, risk.uncertainty, shared, today.x, search, options);
  run.run();
  risk.prices_at_zero = run.prices_at_zero();
  risk.searches = run.searches();
  auto status = run.stopped().value_or(SearchStatus::optimal);
  if (!RiskSummary(scenario, model, run, risk, analysis::threads_of(options)).tell(today.x))
    status = SearchStatus::failed;
  add_coarseness_note(risk);
  risk.outcome =
      solve::outcome_of(scenario, model, status, options.limits, search, finished_words(risk));
  return risk;
}

}  // namespace leastwise
