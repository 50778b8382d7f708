#include <leastwise/formulate.hpp>

#include "solve/answer.hpp"
#include "solve/answer_parts.hpp"

namespace leastwise {
namespace solve {

Formulation formulate(const Scenario& scenario, const model::Model& model,
                      const SolveOptions& options, solver::Root root) {
  solver::SearchOptions search;
  search.stop = options.stop;
  search.deadline = base::deadline_after(options.time_limit);
  if (options.progress)
    search.counter = std::make_shared<solver::SolveCounter>(solver::SolveCounter{options.progress});
  const Task task{scenario, model, options, search};
  const auto solution = checked_search(scenario, model, solver::asked(search, root));
  switch (solution.status) {
    case solver::SearchStatus::optimal:
      return blend_answer(task, solution);
    case solver::SearchStatus::infeasible:
      return conflict_answer(task);
    case solver::SearchStatus::time_limit:
    case solver::SearchStatus::cancelled:
    case solver::SearchStatus::failed:
      break;
  }
  return stopped_answer(task, solution);
}

}  // namespace solve

Formulation formulate(const Scenario& scenario, const SolveOptions& options) {
  return solve::formulate(scenario, model::build(scenario), options, solver::Root::clp);
}

}  // namespace leastwise
