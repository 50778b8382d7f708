#include <leastwise/limit_map.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>
#include <utility>

#include "analysis/maps/limit_curve.hpp"
#include "analysis/maps/limit_map_range.hpp"
#include "base/text/wording.hpp"
#include "scenario/checks.hpp"
#include "solve/answer.hpp"
#include "solve/answer_parts.hpp"

namespace leastwise {
namespace {

using solver::SearchStatus;

void require_limits(double from, double to, const RuleId& rule) {
  const double most = limit_unit(rule) == LimitUnit::percent ? 100 : largest_number;
  if (!std::isfinite(from) || !std::isfinite(to) || from < 0 || to > most)
    throw std::invalid_argument("limits of this rule lie between 0 and " + number_text(most) +
                                ", found " + number_text(from) + " to " + number_text(to));
  if (!(from < to))
    throw std::invalid_argument("an interval of limits must rise, found " + number_text(from) +
                                " to " + number_text(to));
}

[[noreturn]] void refuse(const Scenario& scenario, std::string_view name) {
  const auto either_or = either_or_rules(scenario);
  if (std::find(either_or.begin(), either_or.end(), name) != either_or.end())
    throw std::invalid_argument(in_quotes(name) +
                                " is an either-or rule, whose limit cannot be varied");
  throw std::out_of_range("the scenario has no rule " + in_quotes(name));
}

/// The rules to vary: those of that id, which must have a limit.
std::vector<std::size_t> rules_to_vary(const Scenario& scenario, const model::Model& model,
                                       const RuleId& id) {
  std::vector<std::size_t> rules;
  for (std::size_t r = 0; r < model.rules.size(); ++r)
    if (model::origin_of(model.rules[r], scenario).id == id) rules.push_back(r);
  if (rules.empty()) refuse(scenario, to_string(id));
  return rules;
}

/// The one rule of that name. A material or a nutrient may have any name, so two rules may read
/// alike.
RuleId rule_named(const Scenario& scenario, std::string_view name) {
  std::set<RuleId> found;
  for (const auto& rule : rules::rules_of(scenario))
    if (!rule.is_either_or() && to_string(rule.id) == name) found.insert(rule.id);
  if (found.empty()) refuse(scenario, name);
  if (found.size() > 1)
    throw std::invalid_argument("the scenario has two rules called " + in_quotes(name));
  return *found.begin();
}

/// What is asked, before anything is found.
LimitMap asked_of(const Scenario& scenario, const model::Rule& first, const RuleId& id, double from,
                  double to) {
  LimitMap map;
  map.title = scenario.title();
  map.currency = scenario.currency();
  map.units = scenario.draft().units;
  map.basis = scenario.basis();
  map.notes.assign(scenario.notes().begin(), scenario.notes().end());
  map.rule = to_string(id);
  map.id = id;
  map.unit = limit_unit(id);
  map.from = from;
  map.to = to;
  map.limit_now = first.limit;
  map.declared_now = model::declared_of(first, scenario);
  return map;
}

std::vector<double> sample_limits(double from, double to, double now, int samples) {
  std::vector<double> limits;
  for (int k = 0; k < samples; ++k) limits.push_back(from + (to - from) * k / (samples - 1));
  if (now > from && now < to) limits.push_back(now);
  std::sort(limits.begin(), limits.end());
  limits.erase(std::unique(limits.begin(), limits.end()), limits.end());
  return limits;
}

/// The names of the rules that have a limit to move, or of the others; each name once.
std::vector<std::string> names_of(const Scenario& scenario, bool have_limit_to_move) {
  std::vector<std::string> names;
  for (const auto& rule : rules::rules_of(scenario)) {
    auto name = to_string(rule.id);
    if (rule.is_either_or() != have_limit_to_move &&
        std::find(names.begin(), names.end(), name) == names.end())
      names.push_back(std::move(name));
  }
  return names;
}

/// The end of [from, to] at which the rule asks less; of an equality the one nearer to what it is.
double easier_end(const model::Rule& rule, double from, double to) {
  if (rule.side == RuleSide::min) return from;
  if (rule.side == RuleSide::max) return to;
  return std::fabs(rule.limit - from) <= std::fabs(rule.limit - to) ? from : to;
}

}  // namespace

std::vector<std::string> rules_with_limits(const Scenario& scenario) {
  return names_of(scenario, true);
}

std::vector<std::string> either_or_rules(const Scenario& scenario) {
  return names_of(scenario, false);
}

LimitMap limit_map(const Scenario& scenario, std::string_view rule, double from, double to,
                   const LimitMapOptions& options) {
  return limit_map(scenario, rule_named(scenario, rule), from, to, options);
}

LimitMap limit_map(const Scenario& scenario, const RuleId& rule, double from, double to,
                   const LimitMapOptions& options) {
  const auto model = model::build(scenario);
  const auto rules = rules_to_vary(scenario, model, rule);
  const auto& first = model.rules[rules.front()];
  require_limits(from, to, rule);
  if (options.samples < 2) throw std::invalid_argument("a curve needs at least 2 samples");
  auto map = asked_of(scenario, first, rule, from, to);
  const auto search = solve::counted_search_options(options.limits);
  const bool drifts = std::any_of(rules.begin(), rules.end(), [&](std::size_t r) {
    return !model.rules[r].coefficient_derivatives.empty();
  });
  if (drifts) map.why_sampled = "the limit also changes how much each material counts";
  if (model.either_or()) map.why_sampled = "either-or rules let the cost jump and bend either way";
  map.exact = map.why_sampled.empty();
  analysis::LimitCurve curve(scenario, model, rules, search);
  auto status = SearchStatus::optimal;
  const bool two_sided = rules.size() > 1 || first.side == RuleSide::exactly;
  if (!drifts && (map.exact || !two_sided)) {
    const auto range = analysis::possible_limits(model, rules, {from, to}, search);
    status = range.status;
    map.solves = range.solves;
    if (status == SearchStatus::optimal) map.possible = range.limits;
  }
  if (status == SearchStatus::infeasible)
    map.points = {{from, {}, {}, {}, {}}, {to, {}, {}, {}, {}}};
  if (status == SearchStatus::optimal) {
    const Limits span = map.possible.value_or(Limits{from, to});
    const bool done = map.exact
                          ? curve.follow(span.min, span.max)
                          : curve.sample(sample_limits(span.min, span.max, map.limit_now,
                                                       span.max > span.min ? options.samples : 2));
    if (!done) status = curve.status();
  }
  if (status != SearchStatus::infeasible) map.points = curve.points();
  map.solves += curve.solves();
  if (status == SearchStatus::optimal &&
      std::none_of(map.points.begin(), map.points.end(), [](const auto& p) { return p.cost; }))
    status = SearchStatus::infeasible;
  if (status == SearchStatus::infeasible) {
    map.conflict_at = easier_end(first, from, to);
    auto there = model;
    for (const auto r : rules) model::set_limit(there, r, *map.conflict_at);
    map.outcome = solve::outcome_of(scenario, there, status, options.limits, search);
    return map;
  }
  map.outcome = solve::outcome_of(scenario, model, status, options.limits, search,
                                  solve::what_is_finished(!map.points.empty()));
  return map;
}

}  // namespace leastwise
