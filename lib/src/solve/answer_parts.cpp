#include "solve/answer_parts.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <stdexcept>

#include "base/text/wording.hpp"
#include "solve/answer.hpp"
#include "solve/audit.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {

using solver::SearchStatus;

solver::SearchOptions search_options(const SolveOptions& limits) {
  solver::SearchOptions options;
  options.stop = limits.stop;
  options.deadline = base::deadline_after(limits.time_limit);
  return options;
}

solver::SearchOptions counted_search_options(const SolveOptions& limits) {
  auto options = search_options(limits);
  if (limits.progress)
    options.counter = std::make_shared<solver::SolveCounter>(solver::SolveCounter{limits.progress});
  return options;
}

std::vector<double> kg_of(const Scenario& scenario, const model::Model& model,
                          const std::vector<double>& x) {
  std::vector<double> kg(scenario.materials().size(), 0.0);
  for (std::size_t j = 0; j < model.material_of.size(); ++j)
    if (model.material_of[j] >= 0) kg[static_cast<std::size_t>(model.material_of[j])] = x[j];
  return kg;
}

int column_of(const Scenario& scenario, const model::Model& model, std::string_view material) {
  const auto i = scenario.index_of(material);
  if (!i) return -1;
  const auto found =
      std::find(model.material_of.begin(), model.material_of.end(), static_cast<int>(*i));
  return found == model.material_of.end() ? -1
                                          : static_cast<int>(found - model.material_of.begin());
}

solver::SearchResult checked_search(const Scenario& scenario, const model::Model& model,
                                    const solver::SearchOptions& options) {
  auto result = solver::search(model, options);
  if (result.has_blend &&
      audit(scenario, kg_of(scenario, model, result.x)) > solver::certificate_tolerance)
    result.status = SearchStatus::failed;
  return result;
}

void require_one_price(const Scenario& scenario, std::string_view what) {
  const auto tiered = std::ranges::find_if(
      scenario.materials(), [](const Material& material) { return !material.price_tiers.empty(); });
  if (tiered == scenario.materials().end()) return;
  throw std::invalid_argument(std::string(what) + " needs one price for each material, and " +
                              in_quotes(tiered->name) +
                              " has price_tiers; state its price_per_t instead");
}

Outcome outcome_of(const Scenario& scenario, const model::Model& model, SearchStatus status,
                   const SolveOptions& limits, const solver::SearchOptions& options,
                   std::string_view finished) {
  Outcome outcome;
  outcome.detail.clear();
  switch (status) {
    case SearchStatus::optimal:
      outcome.status = Status::optimal;
      return outcome;
    case SearchStatus::infeasible: {
      outcome.status = Status::infeasible;
      SolveOptions how;
      how.stop = limits.stop;
      outcome.conflict = conflict_answer({scenario, model, how, options});
      return outcome;
    }
    case SearchStatus::time_limit:
      outcome.cause = StopCause::time_limit;
      outcome.detail = "the time limit was reached";
      break;
    case SearchStatus::cancelled:
      outcome.cause = StopCause::cancelled;
      outcome.detail = "stopped on request";
      break;
    case SearchStatus::failed:
      outcome.cause = StopCause::numerical;
      outcome.detail =
          "an answer of the solver could not be confirmed from the scenario's own numbers";
      break;
  }
  outcome.detail += "; " + std::string(finished);
  outcome.status = Status::stopped;
  return outcome;
}

double cost_tolerance(double cost) { return same_cost * std::max(1.0, std::fabs(cost)); }

}  // namespace leastwise::solve
