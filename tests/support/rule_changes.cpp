#include "support/rule_changes.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "support/reading.hpp"

namespace leastwise::support {
namespace {

using Pair = std::pair<std::string, std::string>;

/// Wide enough that the coating rule cannot bind in any blend worth testing.
constexpr double no_coating_limit_percent = 100;
constexpr double unlimited = std::numeric_limits<double>::infinity();

[[noreturn]] void refuse(const RuleId& rule) {
  throw std::invalid_argument("no such rule: " + to_string(rule));
}

TargetDraft* find_target(std::vector<TargetDraft>& targets, const std::string& nutrient) {
  for (TargetDraft& target : targets)
    if (target.nutrient == nutrient) return &target;
  return nullptr;
}

MaterialDraft* find_material(ScenarioDraft& draft, const std::string& name) {
  for (MaterialDraft& material : draft.materials)
    if (material.name == name) return &material;
  return nullptr;
}

/// The limits that a rule has a side of, or null for rules that have none.
Limits* limits_of(ScenarioDraft& draft, const RuleId& rule) {
  switch (rule.kind) {
    case RuleKind::rate:
    case RuleKind::grade: {
      auto& targets = rule.kind == RuleKind::rate ? draft.rates_kg_per_ha : draft.grade_percent;
      TargetDraft* target = find_target(targets, rule.subject);
      return target == nullptr ? nullptr : &target->limits;
    }
    case RuleKind::ratio:
      for (RatioDraft& ratio : draft.ratios)
        if (ratio.of == rule.subject && ratio.to == rule.object) return &ratio.limits;
      return nullptr;
    case RuleKind::total:
      return draft.total_kg_per_ha ? &*draft.total_kg_per_ha : nullptr;
    case RuleKind::coating:
      if (!draft.coating_percent) draft.coating_percent = Limits{.max = 2};
      return &*draft.coating_percent;
    case RuleKind::share: {
      MaterialDraft* material = find_material(draft, rule.subject);
      return material != nullptr && material->share_percent ? &*material->share_percent : nullptr;
    }
    default:
      return nullptr;
  }
}

bool has_side(const Limits& limits, const RuleId& rule) {
  if (rule.side == RuleSide::exactly) return limits.exact();
  if (limits.exact()) return false;
  return rule.side == RuleSide::min ? limits.has_min() : limits.has_max();
}

void drop_side(Limits& limits, const RuleId& rule) {
  if (rule.side != RuleSide::max) limits.min = -unlimited;
  if (rule.side != RuleSide::min) limits.max = unlimited;
}

void erase_pair(std::vector<Pair>& pairs, const std::string& a, const std::string& b) {
  pairs.erase(std::remove_if(pairs.begin(), pairs.end(),
                             [&](const Pair& pair) {
                               return pair == Pair{a, b} || pair == Pair{b, a};
                             }),
              pairs.end());
}

/// With every material let in and every rate confirmed: dropping a rule that asks for a
/// micronutrient would otherwise keep its materials out.
ScenarioDraft unguarded(ScenarioDraft draft) {
  if (!draft.use) {
    draft.use.emplace();
    for (const auto& material : draft.materials) draft.use->push_back(material.name);
  }
  for (auto& material : draft.materials)
    if (!material.share_percent) material.share_percent = Limits{.max = 100};
  draft.confirm_high_rate = {"B", "Cu", "Fe", "Mn", "Mo", "Zn", "Co", "Ni", "Se"};
  return draft;
}

}  // namespace

std::vector<RuleId> rule_ids(const Scenario& scenario) {
  const Reading reading = read(scenario);
  std::vector<RuleId> ids;
  for (const LinearRule& rule : reading.rules)
    if (!is_structural(rule) && (ids.empty() || ids.back() != rule.id)) ids.push_back(rule.id);
  for (const Apart& apart : reading.apart) ids.push_back(apart.id);
  for (std::size_t i = 0; i < reading.size(); ++i)
    if (reading.minimum_if_used[i] > 0) ids.push_back(least_of(reading.material[i]));
  if (reading.bins > 0) ids.push_back(bins_rule());
  return ids;
}

ScenarioDraft without_rule(const ScenarioDraft& draft, const RuleId& rule) {
  ScenarioDraft changed = unguarded(draft);
  if (rule.kind == RuleKind::unasked || rule.kind == RuleKind::ceiling) return changed;
  if (rule.kind == RuleKind::bins) {
    changed.bins.reset();
  } else if (rule.kind == RuleKind::stock || rule.kind == RuleKind::minimum_if_used) {
    MaterialDraft* material = find_material(changed, rule.subject);
    if (material == nullptr) refuse(rule);
    rule.kind == RuleKind::stock ? material->stock_kg.reset()
                                 : material->min_if_used_percent.reset();
  } else if (rule.kind == RuleKind::exclusion) {
    return with_pair_lifted(changed, rule.subject, rule.object);
  } else if (rule.kind == RuleKind::coating) {
    changed.coating_percent = Limits{.max = no_coating_limit_percent};
  } else {
    Limits* limits = limits_of(changed, rule);
    if (limits == nullptr || !has_side(*limits, rule)) refuse(rule);
    drop_side(*limits, rule);
    const bool empty = !limits->has_min() && !limits->has_max();
    if (empty && rule.kind == RuleKind::total) changed.total_kg_per_ha.reset();
    if (empty && rule.kind == RuleKind::share)
      find_material(changed, rule.subject)->share_percent.reset();
    // An emptied target stays as `min: 0`, which asks for nothing and keeps the basis.
    if (empty && rule.kind != RuleKind::total && rule.kind != RuleKind::share) limits->min = 0;
  }
  return changed;
}

ScenarioDraft with_limit(const ScenarioDraft& draft, const RuleId& rule, double value) {
  ScenarioDraft changed = draft;
  if (rule.kind == RuleKind::bins) {
    changed.bins = static_cast<int>(value);
    return changed;
  }
  if (rule.kind == RuleKind::stock || rule.kind == RuleKind::minimum_if_used) {
    MaterialDraft* material = find_material(changed, rule.subject);
    if (material == nullptr) refuse(rule);
    (rule.kind == RuleKind::stock ? material->stock_kg : material->min_if_used_percent) = value;
    return changed;
  }
  Limits* limits = limits_of(changed, rule);
  if (limits == nullptr || !has_side(*limits, rule)) refuse(rule);
  if (rule.side != RuleSide::max) limits->min = value;
  if (rule.side != RuleSide::min) limits->max = value;
  return changed;
}

std::optional<double> limit_of(const ScenarioDraft& draft, const RuleId& rule) {
  ScenarioDraft copy = draft;
  if (rule.kind == RuleKind::bins)
    return draft.bins ? std::optional<double>(*draft.bins) : std::nullopt;
  if (rule.kind == RuleKind::stock || rule.kind == RuleKind::minimum_if_used) {
    const MaterialDraft* material = find_material(copy, rule.subject);
    if (material == nullptr) refuse(rule);
    return rule.kind == RuleKind::stock ? material->stock_kg : material->min_if_used_percent;
  }
  const Limits* limits = limits_of(copy, rule);
  if (limits == nullptr) return {};
  return rule.side == RuleSide::max ? limits->max : limits->min;
}

ScenarioDraft with_pair_lifted(const ScenarioDraft& draft, const std::string& family_a,
                               const std::string& family_b) {
  ScenarioDraft changed = draft;
  for (auto* pairs : {&changed.incompatible, &changed.limited, &changed.compatible})
    erase_pair(*pairs, family_a, family_b);
  changed.compatible.emplace_back(family_a, family_b);
  return changed;
}

}  // namespace leastwise::support
