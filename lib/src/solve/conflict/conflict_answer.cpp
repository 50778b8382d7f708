#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>
#include <stop_token>
#include <string>
#include <utility>

#include "base/text/wording.hpp"
#include "scenario/family_checks.hpp"
#include "scenario/units.hpp"
#include "solve/answer.hpp"
#include "solve/answer_parts.hpp"
#include "solve/conflict/conflict.hpp"
#include "solve/conflict/feasibility_relaxation.hpp"
#include "solve/conflict/limits_alone.hpp"

namespace leastwise::solve {
namespace {

ConflictingRule conflicting(const Task& task, const rules::Origin& origin) {
  ConflictingRule out;
  out.id = origin.id;
  out.rule = to_string(out.id);
  out.unit = limit_unit(out.id);
  if (!origin.path.empty()) out.place = task.scenario.place_of(origin.path);
  return out;
}

/// Why a material stays out, or why no more of an element is let in, and the key that changes it.
std::string guard_reason(const Scenario& scenario, const model::Rule& rule) {
  if (rule.kind == RuleKind::ceiling) {
    const Ceiling& ceiling = scenario.ceilings()[rule.index];
    return ceiling.asked ? "more is far above what is usual; confirm_high_rate: [" +
                               ceiling.element + "] under blend lifts the ceiling"
                         : "no rule asks for " + ceiling.element +
                               ", so no more than a usual rate of it is let in; give it a minimum, "
                               "or say confirm_high_rate: [" +
                               ceiling.element + "] under blend";
  }
  const auto unasked = scenario.unasked();
  const auto found = std::ranges::find(unasked, rule.index, &Unasked::material);
  std::string elements;
  for (const auto& element : found->elements)
    elements += (elements.empty() ? "" : " or ") + element;
  return "no rule asks for its " + elements +
         "; give that a minimum, or the material a share_percent with a min";
}

/// The shorter of two ways to give way.
Known<double> shortfall_of(double limit, const Alone& alone) {
  if (!alone.below.is_computed() || !alone.above.is_computed()) return {};
  auto least = Known<double>::none();
  for (const auto& end : {alone.below, alone.above})
    if (end && (!least || std::fabs(*end - limit) < *least)) least = std::fabs(*end - limit);
  return least;
}

ConflictingRule conflicting_limit(const Task& task, const std::vector<Constraint>& conflict,
                                  const Constraint& constraint, bool irreducible) {
  const auto& rule = task.model.rules[constraint.index];
  ConflictingRule out = conflicting(task, model::origin_of(rule, task.scenario));
  out.limit = rule.limit;
  if (rules::is_guard(rule.kind)) {
    out.detail = guard_reason(task.scenario, rule);
    out.shortfall = out.ends_below = out.ends_above = Known<double>::none();
    return out;
  }
  if (!irreducible || out_of_time(task)) return out;
  auto alone = limits_alone(task.model, conflict, constraint, task.search);
  // A total of nothing is no blend.
  if (rule.kind == RuleKind::total && alone.below && *alone.below <= 1e-9 * rule.limit)
    alone.below = Known<double>::none();
  out.ends_below = alone.below;
  out.ends_above = alone.above;
  out.shortfall = shortfall_of(rule.limit, alone);
  return out;
}

/// A rule that no amount can describe.
ConflictingRule choice(const Task& task, const rules::Origin& origin) {
  ConflictingRule out = conflicting(task, origin);
  out.shortfall = out.ends_below = out.ends_above = Known<double>::none();
  return out;
}

ConflictingRule either_or_rule(const Task& task, const Constraint& constraint) {
  switch (constraint.kind) {
    case Constraint::Kind::minimum_if_used: {
      const auto& minimum = task.model.minima[constraint.index];
      ConflictingRule out = choice(task, model::origin_of(minimum, task.scenario));
      out.limit = minimum.limit;
      return out;
    }
    case Constraint::Kind::apart: {
      const auto& apart = task.model.apart[constraint.index];
      ConflictingRule out = choice(task, model::origin_of(apart, task.scenario));
      constexpr bool in_trial = false;
      out.detail = with_way_to_lift(task.scenario.exclusions()[apart.exclusion], in_trial);
      return out;
    }
    case Constraint::Kind::bins: {
      ConflictingRule out =
          choice(task, rules::origin_of(task.scenario, RuleKind::bins, RuleSide::max, 0));
      out.limit = *task.model.bins;
      return out;
    }
    case Constraint::Kind::rule:
      break;
  }
  return {};
}

/// No material may enter: not even the rule that a tonne is a tonne can be met.
ConflictingRule nothing_may_enter(const Task& task) {
  ConflictingRule out = choice(task, {{.kind = RuleKind::total, .side = RuleSide::exactly}});
  out.limit = kg_per_tonne;
  out.unit = LimitUnit::kg;
  out.detail = "no available material may enter a granular blend";
  return out;
}

/// `exactly` on a nutrient with reduced reach is two rows of one rule; one line is enough.
void merge_same_rules(std::vector<ConflictingRule>& rules) {
  for (std::size_t a = 0; a < rules.size(); ++a)
    for (std::size_t b = a + 1; b < rules.size();) {
      if (rules[a].id != rules[b].id) {
        ++b;
        continue;
      }
      if (rules[b].shortfall &&
          (!rules[a].shortfall || *rules[b].shortfall < *rules[a].shortfall)) {
        rules[a].shortfall = rules[b].shortfall;
        rules[a].ends_below = rules[b].ends_below;
        rules[a].ends_above = rules[b].ends_above;
      }
      rules.erase(rules.begin() + static_cast<std::ptrdiff_t>(b));
    }
}

/// Linear programs after which each part of a conflict's account is given up. A count and no time,
/// so that equal input gives equal output.
constexpr long most_programs = 20000;

/// Search options that ask to stop after so many linear programs.
class Budget {
 public:
  explicit Budget(const solver::SearchOptions& outer)
      : options_(outer), passed_on_(outer.stop, [this] { source_.request_stop(); }) {
    options_.stop = source_.get_token();
    options_.counter = std::make_shared<solver::SolveCounter>(
        solver::SolveCounter{[this, counter = outer.counter](const Progress& progress) {
          if (counter) counter->count();
          if (progress.done >= most_programs) source_.request_stop();
        }});
  }

  [[nodiscard]] const solver::SearchOptions& options() const { return options_; }

 private:
  std::stop_source source_{};
  solver::SearchOptions options_;
  std::stop_callback<std::function<void()>> passed_on_;
};

/// States the limits changed, the blend under them, and what it costs.
void state_nearest(const Task& task, const std::vector<Relaxation>& moved,
                   const std::vector<double>& limits, const solver::SearchResult& found,
                   Conflict& conflict) {
  const auto kg = kg_of(task.scenario, task.model, found.x);
  auto blend = blend_of(task.scenario, kg, LabelNotes::left_out);
  if (task.scenario.basis() == Basis::per_hectare) conflict.nearest_cost_per_ha = found.cost;
  conflict.nearest_cost_per_t = blend.cost_per_t;
  for (auto& caution : cautions_of(task.scenario, kg)) conflict.notes.push_back(std::move(caution));
  conflict.nearest_blend = std::move(blend);
  for (std::size_t k = 0; k < moved.size(); ++k) {
    const auto& rule = task.model.rules[moved[k].rule];
    const auto [id, path] = model::origin_of(rule, task.scenario);
    conflict.nearest.push_back(
        {to_string(id), id, rule.limit, limits[k], limit_unit(id), task.scenario.place_of(path)});
  }
}

/// Adds the nearest limits, once a blend under them has been found and checked. That search has a
/// budget of its own: limits that were found before the first one was spent are not lost.
void add_nearest(const Task& task, Conflict& conflict) {
  const Budget relaxing(task.search);
  const auto nearest = relax_to_feasible(task.scenario, task.model, relaxing.options());
  if (nearest.changes.is_none()) conflict.nearest_blend = Known<Blend>::none();
  if (!nearest.changes) return;
  const auto& moved = *nearest.changes;
  const Budget checking(task.search);
  auto relaxed = task.model;
  std::vector<double> limits;
  limits.reserve(moved.size());
  for (const auto& m : moved) limits.push_back(m.limit);
  for (int attempt = 0; attempt < 4; ++attempt) {
    for (std::size_t k = 0; k < moved.size(); ++k)
      model::set_limit(relaxed, moved[k].rule, limits[k]);
    const auto found = solver::search(relaxed, checking.options());
    if (found.status == solver::SearchStatus::optimal) {
      conflict.nearest_is_least = nearest.least;
      state_nearest(task, moved, limits, found, conflict);
      return;
    }
    if (found.status != solver::SearchStatus::infeasible) return;
    for (std::size_t k = 0; k < moved.size(); ++k) {  // one more step of the last digit
      const auto& rule = task.model.rules[moved[k].rule];
      if (rule.side == RuleSide::exactly || rule.paired_rule >= 0) continue;
      const double away = limits[k] < rule.limit ? -1 : 1;
      limits[k] += away * 1e-6 * std::max(std::fabs(limits[k]), 1e-6);
    }
  }
}

/// Names the granular factor where it has its part in a conflict: a minimum then asks for more than
/// its figure says.
void add_factor_notes(const Task& task, Conflict& conflict) {
  for (const auto& rate : task.scenario.rates()) {
    if (std::ranges::none_of(conflict.rules, [&](const ConflictingRule& rule) {
          return rule.id.kind == RuleKind::rate && rule.id.subject == rate.nutrient &&
                 rule.id.side != RuleSide::max;
        }))
      continue;
    std::vector<std::string> subjects{rate.nutrient};
    double reach = 1;
    std::string names;
    for (std::size_t i = 0; i < rate.availability.size(); ++i) {
      const auto& material = task.scenario.materials()[i];
      if (rate.availability[i] == 1 || rate.content_percent[i] <= 0 || !material.can_enter())
        continue;
      reach = rate.availability[i];
      names += (names.empty() ? "" : ", ") + material.name;
      subjects.push_back(material.name);
    }
    if (subjects.size() == 1) continue;
    const std::string factor = rounded_text(1 / reach);
    conflict.notes.push_back(
        {NoteLevel::info, NoteCode::granular_factor, std::move(subjects),
         "A minimum of " + rate.nutrient + " counts a micronutrient granule (" + names + ") at 1/" +
             factor + ", a maximum in full: " + factor + " kg of " + rate.nutrient +
             " are spread for each kg asked for" +
             (rate.limits.exact() ? ", so that granules alone cannot give an exact rate; ask for "
                                    "min, or set the factor to 1"
                                  : "") +
             " (blend: granular_micronutrient_factor: {" + rate.nutrient + ": ...})"});
  }
}

/// Why something is missing in a conflict about which everything was asked.
std::string unfinished_conflict(const Task& task) {
  const std::string rest =
      " before everything about it was found; that no blend obeys every rule is proved.";
  if (task.search.stop.stop_requested()) return "Stopped on request" + rest;
  if (out_of_time(task)) return "The time limit was reached" + rest;
  return "A part of the account of this conflict was given up after " +
         std::to_string(most_programs) +
         " linear programs, or was lost to rounding; that no blend obeys every rule is proved.";
}

bool is_complete(const Conflict& conflict) {
  return conflict.irreducible && conflict.nearest_blend.is_computed() &&
         std::ranges::all_of(conflict.rules, [](const ConflictingRule& rule) {
           return rule.shortfall.is_computed();
         });
}

}  // namespace

Conflict conflict_answer(const Task& task) {
  Conflict conflict;
  conflict.title = task.scenario.title();
  conflict.currency = task.scenario.currency();
  conflict.units = task.scenario.draft().units;
  conflict.basis = task.scenario.basis();
  conflict.notes.assign(task.scenario.notes().begin(), task.scenario.notes().end());
  const Budget finding(task.search);
  const auto found = irreducible_conflict(task.model, finding.options());
  conflict.irreducible = found.irreducible;
  const Budget telling(task.search);
  const Task alone{task.scenario, task.model, task.options, telling.options()};
  for (const auto& constraint : found.constraints)
    conflict.rules.push_back(constraint.kind == Constraint::Kind::rule
                                 ? conflicting_limit(alone, found.constraints, constraint,
                                                     found.irreducible && task.options.intervals)
                                 : either_or_rule(task, constraint));
  merge_same_rules(conflict.rules);
  add_factor_notes(task, conflict);
  if (found.constraints.empty()) conflict.rules.push_back(nothing_may_enter(task));
  if (task.options.intervals && !out_of_time(task)) add_nearest(task, conflict);
  if (task.options.intervals && !is_complete(conflict))
    conflict.notes.push_back(
        {NoteLevel::info, NoteCode::not_finished, {}, unfinished_conflict(task)});
  return conflict;
}

Stopped stopped_answer(const Task& task, const solver::SearchResult& solution) {
  Stopped stopped;
  stopped.title = task.scenario.title();
  stopped.currency = task.scenario.currency();
  stopped.units = task.scenario.draft().units;
  stopped.basis = task.scenario.basis();
  stopped.notes.assign(task.scenario.notes().begin(), task.scenario.notes().end());
  switch (solution.status) {
    case solver::SearchStatus::time_limit:
      stopped.cause = StopCause::time_limit;
      stopped.detail = "the time limit was reached after " + std::to_string(solution.nodes) +
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
    const auto kg = kg_of(task.scenario, task.model, solution.x);
    stopped.best_portions = portions_of(task.scenario, kg);
    add_oxidizer_caution(task.scenario, kg, stopped.notes);
  }
  if (std::isfinite(solution.lower_bound)) stopped.lower_bound = solution.lower_bound;
  return stopped;
}

}  // namespace leastwise::solve
