#include <algorithm>
#include <cmath>

#include "insight/answer.hpp"
#include "insight/conflict.hpp"

namespace leastwise::insight {
namespace {

ConflictingRule conflicting_limit(const Task& task, const std::vector<Demand>& conflict,
                                  const Demand& demand, bool irreducible) {
  const auto& rule = task.model.rules[demand.index];
  ConflictingRule out;
  out.rule = model::name_of(rule, task.scenario);
  out.limit = rule.limit;
  out.unit = model::unit_of(rule);
  out.place = task.scenario.place_of(model::path_of(rule, task.scenario));
  if (irreducible && !out_of_time(task)) {
    const double amount = shortfall(task.model, conflict, demand, task.search);
    if (std::isfinite(amount)) out.shortfall = amount;
  }
  return out;
}

ConflictingRule either_or_rule(const Task& task, const Demand& demand) {
  ConflictingRule out;
  switch (demand.kind) {
    case Demand::Kind::minimum_if_used: {
      const auto& minimum = task.model.minima[demand.index];
      out.rule = model::name_of(minimum, task.scenario);
      out.limit = minimum.percent;
      out.unit = "%";
      out.place = task.scenario.place_of(model::path_of(minimum, task.scenario));
      break;
    }
    case Demand::Kind::apart: {
      const auto& apart = task.model.apart[demand.index];
      const auto& exclusion = task.scenario.exclusions()[apart.exclusion];
      out.rule = model::name_of(apart, task.scenario);
      out.detail = exclusion.reason;
      if (!exclusion.path.empty()) out.place = task.scenario.place_of(exclusion.path);
      break;
    }
    case Demand::Kind::bins:
      out.rule = "bins";
      out.limit = *task.model.bins;
      out.unit = "bins";
      out.place = task.scenario.place_of("blend.bins");
      break;
    case Demand::Kind::rule:
      break;
  }
  return out;
}

/// `exactly` on a nutrient with reduced reach is two rules of one name; one line is enough.
void merge_same_names(std::vector<ConflictingRule>& rules) {
  for (std::size_t a = 0; a < rules.size(); ++a)
    for (std::size_t b = a + 1; b < rules.size();) {
      if (rules[a].rule != rules[b].rule) {
        ++b;
        continue;
      }
      if (rules[b].shortfall && (!rules[a].shortfall || *rules[b].shortfall < *rules[a].shortfall))
        rules[a].shortfall = rules[b].shortfall;
      rules.erase(rules.begin() + static_cast<std::ptrdiff_t>(b));
    }
}

/// Adds the nearest limits, once a blend under them has been found and checked.
void add_nearest(const Task& task, Conflict& conflict) {
  const auto moved = nearest_limits(task.scenario, task.model, task.search);
  if (moved.empty()) return;
  auto relaxed = task.model;
  std::vector<double> limits;
  limits.reserve(moved.size());
  for (const auto& m : moved) limits.push_back(m.limit);
  for (int attempt = 0; attempt < 4; ++attempt) {
    for (std::size_t k = 0; k < moved.size(); ++k)
      model::set_limit(relaxed, moved[k].rule, limits[k]);
    const auto found = solver::search(relaxed, task.search);
    if (found.status == solver::SearchStatus::optimal) {
      const double total = model::total_mass(task.scenario, task.model, found.x);
      if (task.scenario.basis() == Basis::per_hectare) conflict.nearest_cost_per_ha = found.cost;
      conflict.nearest_cost_per_t = total > 0 ? found.cost / total * 1000 : 0;
      for (std::size_t k = 0; k < moved.size(); ++k) {
        const auto& rule = task.model.rules[moved[k].rule];
        conflict.nearest.push_back({model::name_of(rule, task.scenario), rule.limit, limits[k],
                                    model::unit_of(rule),
                                    task.scenario.place_of(model::path_of(rule, task.scenario))});
      }
      return;
    }
    if (found.status != solver::SearchStatus::infeasible) return;
    for (std::size_t k = 0; k < moved.size(); ++k) {  // one more step of the last digit
      const double from = task.model.rules[moved[k].rule].limit;
      const double away = limits[k] < from ? -1 : 1;
      limits[k] += away * 1e-6 * std::max(std::fabs(limits[k]), 1e-6);
    }
  }
}

}  // namespace

Conflict conflict_answer(const Task& task) {
  Conflict conflict;
  conflict.title = task.scenario.title();
  conflict.currency = task.scenario.currency();
  conflict.basis = task.scenario.basis();
  conflict.notes.assign(task.scenario.notes().begin(), task.scenario.notes().end());
  const auto found = irreducible_conflict(task.model, task.search);
  conflict.irreducible = found.irreducible;
  for (const auto& demand : found.demands)
    conflict.rules.push_back(demand.kind == Demand::Kind::rule
                                 ? conflicting_limit(task, found.demands, demand,
                                                     found.irreducible && task.options.intervals)
                                 : either_or_rule(task, demand));
  merge_same_names(conflict.rules);
  if (found.demands.empty())
    conflict.rules.push_back(
        {"total exactly", 1000, {}, "kg", "no material in play may enter a granular blend", {}});
  if (task.options.intervals && !out_of_time(task)) add_nearest(task, conflict);
  return conflict;
}

Stopped stopped_answer(const Task& task, const solver::SearchResult& solution) {
  Stopped stopped;
  stopped.title = task.scenario.title();
  stopped.currency = task.scenario.currency();
  stopped.basis = task.scenario.basis();
  stopped.notes.assign(task.scenario.notes().begin(), task.scenario.notes().end());
  switch (solution.status) {
    case solver::SearchStatus::time_limit:
      stopped.cause = StopCause::time_limit;
      stopped.detail = "the time limit struck after " + std::to_string(solution.nodes) +
                       " linear programs, before the proof was complete";
      break;
    case solver::SearchStatus::cancelled:
      stopped.cause = StopCause::cancelled;
      stopped.detail = "stopped on request after " + std::to_string(solution.nodes) +
                       " linear programs, before the proof was complete";
      break;
    case solver::SearchStatus::optimal:
    case solver::SearchStatus::infeasible:
    case solver::SearchStatus::failed:
      stopped.cause = StopCause::numerical;
      stopped.detail =
          "the solver's answer could not be confirmed from the scenario's own numbers, so none is "
          "given; look for limits or contents that differ by many orders of magnitude";
      return stopped;
  }
  if (solution.has_blend) {
    stopped.best_cost = solution.cost;
    const auto kg = kg_of_materials(task, solution.x);
    stopped.best_portions = portions_of(task.scenario, kg);
    add_oxidizer_caution(task.scenario, kg, stopped.notes);
  }
  if (std::isfinite(solution.lower_bound)) stopped.lower_bound = solution.lower_bound;
  return stopped;
}

}  // namespace leastwise::insight
