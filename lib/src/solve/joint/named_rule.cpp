#include "solve/joint/named_rule.hpp"

#include <algorithm>
#include <cmath>

#include "scenario/family_checks.hpp"
#include "solve/conflict/limits_alone.hpp"

namespace leastwise::solve {
namespace {

template <class First>
std::size_t block_at(const model::Joined& joined, std::size_t index, First first) {
  const auto after = std::ranges::upper_bound(joined.blocks, index, {}, first);
  return static_cast<std::size_t>(after - joined.blocks.begin()) - 1;
}

}  // namespace

std::size_t block_of(const model::Joined& joined, const Constraint& constraint) {
  switch (constraint.kind) {
    case Constraint::Kind::minimum_if_used:
      return block_at(joined, constraint.index, &model::Block::minimum);
    case Constraint::Kind::apart:
      return block_at(joined, constraint.index, &model::Block::apart);
    case Constraint::Kind::bins:
      return block_at(joined, constraint.index, &model::Block::bins);
    case Constraint::Kind::rule:
      break;
  }
  return block_at(joined, constraint.index, &model::Block::rule);
}

void add_shortfall(const model::Model& joined, const std::vector<Constraint>& conflict,
                   const Constraint& constraint, const solver::SearchOptions& search,
                   ConflictingRule& rule) {
  const auto alone = limits_alone(joined, conflict, constraint, search);
  const double limit = joined.rules[constraint.index].limit;
  rule.ends_below = alone.below;
  rule.ends_above = alone.above;
  rule.shortfall = Known<double>();
  if (!alone.below.is_computed() || !alone.above.is_computed()) return;
  rule.shortfall = Known<double>::none();
  for (const auto& end : {alone.below, alone.above})
    if (end && (!rule.shortfall || std::fabs(*end - limit) < *rule.shortfall))
      rule.shortfall = std::fabs(*end - limit);
}

ConflictingRule named_rule(const model::Joined& joined, const NamedBlock& block,
                           const std::vector<Constraint>& conflict, const Constraint& constraint,
                           const solver::SearchOptions& search) {
  const Scenario& scenario = block.scenario;
  const auto& first = joined.blocks[block.number];
  ConflictingRule out;
  out.shortfall = out.ends_below = out.ends_above = Known<double>::none();
  if (constraint.kind == Constraint::Kind::minimum_if_used) {
    const auto& minimum = block.own.minima[constraint.index - first.minimum];
    out.id = model::origin_of(minimum, scenario).id;
    out.limit = minimum.limit;
    out.place = scenario.place_of(model::origin_of(minimum, scenario).path);
  } else if (constraint.kind == Constraint::Kind::bins) {
    const auto origin = rules::origin_of(scenario, RuleKind::bins, RuleSide::max, 0);
    out.id = origin.id;
    out.limit = *scenario.bins();
    out.place = scenario.place_of(origin.path);
  } else if (constraint.kind == Constraint::Kind::apart) {
    const auto& apart = block.own.apart[constraint.index - first.apart];
    out.id = model::origin_of(apart, scenario).id;
    out.detail = with_way_to_lift(scenario.exclusions()[apart.exclusion], block.in_trial);
  } else {
    const auto& rule = block.own.rules[constraint.index - first.rule];
    out.id = model::origin_of(rule, scenario).id;
    out.limit = rule.limit;
    out.place = scenario.place_of(model::origin_of(rule, scenario).path);
    if (!rules::is_guard(rule.kind)) add_shortfall(joined.model, conflict, constraint, search, out);
  }
  out.rule = to_string(out.id);
  out.unit = limit_unit(out.id);
  return out;
}

}  // namespace leastwise::solve
