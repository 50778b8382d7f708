#include <leastwise/rounding.hpp>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <stdexcept>

#include "analysis/rounding/rounding_search.hpp"
#include "base/text/wording.hpp"
#include "scenario/checks.hpp"
#include "scenario/units.hpp"
#include "solve/answer_parts.hpp"
#include "solve/audit.hpp"
#include "solver/certificate.hpp"

namespace leastwise {
namespace {

using analysis::GridModel;
using analysis::GridSearchResult;
using solver::SearchStatus;

/// kg of a batch for each kg in the model's units.
double batch_scale(const Scenario& scenario, const RoundingOptions& options) {
  return scenario.basis() == Basis::per_hectare
             ? options.batch_hectares.value_or(1)
             : options.batch_kg.value_or(kg_per_tonne) / kg_per_tonne;
}

void require_sensible(double value, const std::string& what) {
  if (!std::isfinite(value) || value <= 0 || value > largest_number)
    throw std::invalid_argument(what + " must be above 0 and at most " +
                                number_text(largest_number) + ", found " + number_text(value));
}

void require_usable(const Scenario& scenario, const RoundingOptions& options) {
  solve::require_one_price(scenario, "rounding to a step");
  require_sensible(options.step_kg, "the step in kg");
  if (options.batch_kg) require_sensible(*options.batch_kg, "the batch in kg");
  if (options.batch_hectares) require_sensible(*options.batch_hectares, "the batch in hectares");
  if (options.most_solves < 1) throw std::invalid_argument("at least one solve is needed");
  if (scenario.basis() == Basis::per_hectare) {
    if (options.batch_kg)
      throw std::invalid_argument(
          "this scenario is per hectare, so a batch is the product for so many hectares, not so "
          "many kg");
    return;
  }
  if (options.batch_hectares)
    throw std::invalid_argument(
        "this scenario is per tonne, so a batch is so many kg of product, not hectares");
  const double batch = options.batch_kg.value_or(kg_per_tonne);
  const double steps = batch / options.step_kg;
  if (std::fabs(steps - std::round(steps)) > 1e-9 * steps || std::round(steps) < 1)
    throw std::invalid_argument("a batch must be a whole number of steps, found " +
                                number_text(batch) + " kg in steps of " +
                                number_text(options.step_kg) + " kg");
}

class Rounding {
 public:
  Rounding(const Scenario& scenario, const RoundingOptions& options)
      : scenario_(scenario),
        options_(options),
        search_(solve::counted_search_options(options.limits)),
        model_(model::build(scenario)),
        scale_(batch_scale(scenario, options)),
        grid_(analysis::grid_model(scenario, model_, options.step_kg / scale_)) {}

  RoundedBlend run();

 private:
  void nearest(const std::vector<double>& exact);
  void write(const std::vector<double>& x, const std::vector<double>& exact);
  void write_binder(const std::vector<double>& x, const std::vector<double>& exact);
  void name_drifts(const std::vector<double>& x);
  /// kg in the model's units.
  [[nodiscard]] double weighed_binder(const std::vector<double>& x) const {
    if (grid_.binder_column < 0) return 0;
    return x[static_cast<std::size_t>(grid_.binder_column)] +
           x[static_cast<std::size_t>(grid_.least_binder_column)];
  }
  [[nodiscard]] double on_grid(double kg) const {
    return std::round(kg * scale_ / options_.step_kg) * options_.step_kg;
  }
  /// Of the search that keeps every rule: a part of the time is left for the nearest blend.
  [[nodiscard]] solver::SearchOptions first_search() const {
    auto part = search_;
    if (part.deadline) {
      const auto now = std::chrono::steady_clock::now();
      part.deadline = now + (*part.deadline - now) * 2 / 3;
    }
    return part;
  }
  RoundedBlend told() {
    blend_.outcome = solve::outcome_of(
        scenario_, model_, status_, options_.limits, search_,
        blend_.portions.empty() ? solve::nothing_finished : "what is shown is the best found");
    return std::move(blend_);
  }

  const Scenario& scenario_;
  const RoundingOptions& options_;
  solver::SearchOptions search_;
  model::Model model_;
  double scale_;
  GridModel grid_;
  SearchStatus status_ = SearchStatus::failed;
  RoundedBlend blend_{};
};

void Rounding::name_drifts(const std::vector<double>& x) {
  const auto kg = solve::kg_of(scenario_, model_, x);
  for (const auto& achieved : rules::measure(scenario_, {kg, weighed_binder(x)})) {
    if (achieved.relative_shortfall() <= solver::certificate_tolerance) continue;
    const RuleId& id = achieved.rule.id;
    blend_.violations.push_back(
        {to_string(id), id, achieved.rule.limit, achieved.value(), limit_unit(id)});
  }
  blend_.feasible = blend_.violations.empty();
}

void Rounding::write_binder(const std::vector<double>& x, const std::vector<double>& exact) {
  auto& binder = blend_.binder.emplace();
  if (grid_.binder_column < 0) return;
  binder.material = scenario_.binder().material;
  binder.kg_per_batch = on_grid(weighed_binder(x));
  for (std::size_t j = 0; j < model_.material_of.size(); ++j) {
    if (model_.material_of[j] < 0) continue;
    const auto i = static_cast<std::size_t>(model_.material_of[j]);
    const double binder_per_kg = scenario_.mass_factor(i) - 1;
    binder.exact_kg_per_batch += binder_per_kg * x[j] * scale_;
    binder.off_grid_kg_per_batch += binder_per_kg * exact[j] * scale_;
  }
  *blend_.batch_kg += binder.kg_per_batch;
  binder.cost_per_batch = binder.kg_per_batch * scenario_.binder().price_per_t / kg_per_tonne;
}

void Rounding::write(const std::vector<double>& x, const std::vector<double>& exact) {
  blend_.batch_kg = 0;
  for (std::size_t j = 0; j < model_.material_of.size(); ++j) {
    if (model_.material_of[j] < 0 || (x[j] <= 0 && exact[j] <= 0)) continue;
    const auto& material = scenario_.materials()[static_cast<std::size_t>(model_.material_of[j])];
    const double kg = on_grid(x[j]);
    blend_.portions.push_back(
        {material.name, material.form_used(), kg, exact[j] * scale_,
         kg * (material.price_per_t + material.freight_per_t) / kg_per_tonne});
    *blend_.batch_kg += kg;
  }
  std::stable_sort(blend_.portions.begin(), blend_.portions.end(),
                   [](const WeighedPortion& a, const WeighedPortion& b) {
                     return a.kg_per_batch > b.kg_per_batch;
                   });
  write_binder(x, exact);
  const double batch_kg = *blend_.batch_kg;
  blend_.blending_cost_per_batch = batch_kg * scenario_.blending_fee_per_t() / kg_per_tonne;
  const auto kg = solve::kg_of(scenario_, model_, x);
  blend_.supply = solve::supply_of(scenario_, kg, batch_kg / scale_);
  blend_.notes = solve::notes_of(scenario_, kg, batch_kg / scale_);
  if (scenario_.draft().units == Units::us)
    blend_.notes.push_back({NoteLevel::info,
                            NoteCode::metric_figures,
                            {},
                            "steps, batches and what they supply are in kg and hectares, as scales "
                            "weigh; the scenario counts in lb and acres"});
  double cost = 0;
  for (std::size_t j = 0; j < grid_.model.cost.size(); ++j) cost += grid_.model.cost[j] * x[j];
  blend_.cost = cost;
  name_drifts(x);
}

/// Nothing on the grid keeps every rule, or nothing was found: the one that misses least.
void Rounding::nearest(const std::vector<double>& exact) {
  auto known = exact;
  known.resize(grid_.model.cost.size(), 0.0);
  const double drift_price = 1000 * std::max(std::fabs(*blend_.exact_cost), 1e-3);
  const auto elastic = analysis::elastic_grid(grid_, known, drift_price);
  const auto found = analysis::search_grid(elastic, options_.most_solves, search_);
  blend_.solves += found.solves;
  blend_.proved = blend_.proved && found.status == SearchStatus::optimal;
  if (found.status == SearchStatus::infeasible)
    status_ = SearchStatus::failed;
  else if (found.status != SearchStatus::optimal && !found.gave_up)
    status_ = found.status;
  if (found.found) write(found.x, exact);
}

RoundedBlend Rounding::run() {
  blend_.title = scenario_.title();
  blend_.currency = scenario_.currency();
  blend_.basis = scenario_.basis();
  blend_.step_kg = options_.step_kg;
  blend_.notes.assign(scenario_.notes().begin(), scenario_.notes().end());
  if (blend_.basis == Basis::per_hectare)
    blend_.batch_hectares = options_.batch_hectares.value_or(1);
  const auto exact = solve::checked_search(scenario_, model_, solver::asked(search_));
  blend_.solves = exact.nodes;
  if (exact.status != SearchStatus::optimal) {
    status_ = exact.status;
    return told();
  }
  blend_.exact_cost = exact.cost;
  const auto found = analysis::search_grid(grid_, options_.most_solves, first_search());
  blend_.solves += found.solves;
  if (std::isfinite(found.lower_bound)) blend_.lower_bound = found.lower_bound;
  const bool settled =
      found.status == SearchStatus::optimal || found.status == SearchStatus::infeasible;
  blend_.proved = settled;
  status_ = settled || found.gave_up ? SearchStatus::optimal : found.status;
  blend_.proven_infeasible = found.status == SearchStatus::infeasible;
  if (found.found)
    write(found.x, exact.x);
  else if (settled || found.gave_up || found.status == SearchStatus::time_limit)
    nearest(exact.x);
  return told();
}

}  // namespace

RoundedBlend round_to_step(const Scenario& scenario, const RoundingOptions& options) {
  require_usable(scenario, options);
  return Rounding(scenario, options).run();
}

}  // namespace leastwise
