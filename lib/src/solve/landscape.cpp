#include "solve/landscape.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>

#include "solve/answer.hpp"
#include "solve/audit.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {

using solver::SearchStatus;

solver::SearchOptions search_options(const SolveLimits& limits) {
  solver::SearchOptions options;
  options.stop = limits.stop;
  options.deadline = base::deadline_after(limits.time_limit);
  return options;
}

solver::SearchOptions counted_search_options(const SolveLimits& limits) {
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

Ending ending_of(const Scenario& scenario, const model::Model& model, SearchStatus status,
                 const SolveLimits& limits, const solver::SearchOptions& options,
                 std::string_view finished) {
  Ending ending;
  ending.detail.clear();
  switch (status) {
    case SearchStatus::optimal:
      ending.status = Status::optimal;
      return ending;
    case SearchStatus::infeasible: {
      ending.status = Status::infeasible;
      FormulateOptions how;
      how.stop = limits.stop;
      ending.conflict = conflict_answer({scenario, model, how, options});
      return ending;
    }
    case SearchStatus::time_limit:
      ending.cause = StopCause::time_limit;
      ending.detail = "the time limit was reached";
      break;
    case SearchStatus::cancelled:
      ending.cause = StopCause::cancelled;
      ending.detail = "stopped on request";
      break;
    case SearchStatus::failed:
      ending.cause = StopCause::numerical;
      ending.detail =
          "an answer of the solver could not be confirmed from the scenario's own numbers";
      break;
  }
  ending.detail += "; " + std::string(finished);
  ending.status = Status::stopped;
  return ending;
}

double cost_tolerance(double cost) { return same_cost * std::max(1.0, std::fabs(cost)); }

}  // namespace leastwise::solve
