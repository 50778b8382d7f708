#include <leastwise/formulate.hpp>

#include "solve/answer.hpp"
#include "solve/landscape.hpp"

namespace leastwise {

Formulation formulate(const Scenario& scenario, const FormulateOptions& options) {
  solver::SearchOptions search;
  search.stop = options.stop;
  search.deadline = exact::deadline_after(options.time_limit);
  if (options.progress)
    search.counter = std::make_shared<solver::SolveCounter>(solver::SolveCounter{options.progress});
  const auto model = model::build(scenario);
  const insight::Task task{scenario, model, options, search};
  const auto solution = insight::checked_search(scenario, model, search);
  switch (solution.status) {
    case solver::SearchStatus::optimal:
      return insight::blend_answer(task, solution);
    case solver::SearchStatus::infeasible:
      return insight::conflict_answer(task);
    case solver::SearchStatus::time_limit:
    case solver::SearchStatus::cancelled:
    case solver::SearchStatus::failed:
      break;
  }
  return insight::stopped_answer(task, solution);
}

}  // namespace leastwise
