#include "support/rule_changes.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>
#include <tuple>

#include "support/reading.hpp"

namespace leastwise::support {
namespace {

using Pair = std::pair<std::string, std::string>;

/// Wide enough that the coating rule cannot bind in any blend worth testing.
constexpr double no_coating_limit_percent = 100;
constexpr double unlimited = std::numeric_limits<double>::infinity();

[[noreturn]] void refuse(std::string_view name) {
  throw std::invalid_argument("no such rule: " + std::string(name));
}

bool take_prefix(std::string& text, std::string_view prefix) {
  if (text.rfind(prefix, 0) != 0) return false;
  text.erase(0, prefix.size());
  return true;
}

bool take_suffix(std::string& text, std::string_view suffix) {
  if (text.size() < suffix.size() ||
      text.compare(text.size() - suffix.size(), suffix.size(), suffix) != 0)
    return false;
  text.erase(text.size() - suffix.size());
  return true;
}

Pair split(const std::string& text, std::string_view separator, std::string_view name) {
  const auto at = text.find(separator);
  if (at == std::string::npos) refuse(name);
  return {text.substr(0, at), text.substr(at + separator.size())};
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

/// The limits a rule's name points at, or null for rules that have none.
Limits* limits_of(ScenarioDraft& draft, const RuleName& rule) {
  if (rule.kind == "rate" || rule.kind == "grade") {
    auto& targets = rule.kind == "rate" ? draft.rates_kg_per_ha : draft.grade_percent;
    TargetDraft* target = find_target(targets, rule.subject);
    return target == nullptr ? nullptr : &target->limits;
  }
  if (rule.kind == "ratio") {
    for (RatioDraft& ratio : draft.ratios)
      if (ratio.of == rule.subject && ratio.to == rule.other) return &ratio.limits;
    return nullptr;
  }
  if (rule.kind == "total") return draft.total_kg_per_ha ? &*draft.total_kg_per_ha : nullptr;
  if (rule.kind == "coating") {
    if (!draft.coating_percent) draft.coating_percent = Limits{.max = 2};
    return &*draft.coating_percent;
  }
  if (rule.kind == "share") {
    MaterialDraft* material = find_material(draft, rule.subject);
    return material != nullptr && material->share_percent ? &*material->share_percent : nullptr;
  }
  return nullptr;
}

bool has_side(const Limits& limits, const RuleName& rule) {
  if (rule.side == "exactly") return limits.exact();
  if (limits.exact()) return false;
  return rule.side == "min" ? limits.has_min() : limits.has_max();
}

void drop_side(Limits& limits, const RuleName& rule) {
  if (rule.side != "max") limits.min = -unlimited;
  if (rule.side != "min") limits.max = unlimited;
}

void erase_pair(std::vector<Pair>& pairs, const std::string& a, const std::string& b) {
  pairs.erase(std::remove_if(pairs.begin(), pairs.end(),
                             [&](const Pair& pair) {
                               return pair == Pair{a, b} || pair == Pair{b, a};
                             }),
              pairs.end());
}

}  // namespace

RuleName parsed_rule(std::string_view name) {
  std::string rest(name);
  RuleName rule;
  if (rest == "bins") return {"bins", "", "", ""};
  if (take_prefix(rest, "stock ")) return {"stock", rest, "", ""};
  if (take_prefix(rest, "min if used ")) return {"least", rest, "", ""};
  if (take_prefix(rest, "apart ")) {
    const Pair families = split(rest, " / ", name);
    return {"apart", families.first, families.second, ""};
  }
  for (const char* side : {"min", "max", "exactly"})
    if (take_suffix(rest, std::string(" ") + side)) rule.side = side;
  if (rule.side.empty()) refuse(name);
  if (rest == "total" || rest == "coating") {
    rule.kind = rest;
    return rule;
  }
  for (const char* kind : {"rate", "grade", "ratio", "share"})
    if (take_prefix(rest, std::string(kind) + " ")) {
      rule.kind = kind;
      break;
    }
  if (rule.kind.empty()) refuse(name);
  rule.subject = rest;
  if (rule.kind == "ratio") std::tie(rule.subject, rule.other) = split(rest, ":", name);
  return rule;
}

std::vector<std::string> rule_names(const Scenario& scenario) {
  const Reading reading = read(scenario);
  std::vector<std::string> names;
  for (const LinearRule& rule : reading.rules)
    if (rule.name != "total" && (names.empty() || names.back() != rule.name))
      names.push_back(rule.name);
  for (const Apart& apart : reading.apart) names.push_back(apart.name);
  for (std::size_t i = 0; i < reading.size(); ++i)
    if (reading.minimum_if_used[i] > 0) names.push_back("min if used " + reading.material[i]);
  if (reading.bins > 0) names.emplace_back("bins");
  return names;
}

ScenarioDraft without_rule(const ScenarioDraft& draft, std::string_view name) {
  ScenarioDraft changed = draft;
  const RuleName rule = parsed_rule(name);
  if (rule.kind == "bins") {
    changed.bins.reset();
  } else if (rule.kind == "stock" || rule.kind == "least") {
    MaterialDraft* material = find_material(changed, rule.subject);
    if (material == nullptr) refuse(name);
    rule.kind == "stock" ? material->stock_kg.reset() : material->min_if_used_percent.reset();
  } else if (rule.kind == "apart") {
    return with_pair_lifted(draft, rule.subject, rule.other);
  } else if (rule.kind == "coating") {
    changed.coating_percent = Limits{.max = no_coating_limit_percent};
  } else {
    Limits* limits = limits_of(changed, rule);
    if (limits == nullptr || !has_side(*limits, rule)) refuse(name);
    drop_side(*limits, rule);
    const bool empty = !limits->has_min() && !limits->has_max();
    if (empty && rule.kind == "total") changed.total_kg_per_ha.reset();
    if (empty && rule.kind == "share") find_material(changed, rule.subject)->share_percent.reset();
    // An emptied target stays as `min: 0`, which asks for nothing and keeps the basis.
    if (empty && rule.kind != "total" && rule.kind != "share") limits->min = 0;
  }
  return changed;
}

ScenarioDraft with_limit(const ScenarioDraft& draft, std::string_view name, double value) {
  ScenarioDraft changed = draft;
  const RuleName rule = parsed_rule(name);
  if (rule.kind == "bins") {
    changed.bins = static_cast<int>(value);
    return changed;
  }
  if (rule.kind == "stock" || rule.kind == "least") {
    MaterialDraft* material = find_material(changed, rule.subject);
    if (material == nullptr) refuse(name);
    (rule.kind == "stock" ? material->stock_kg : material->min_if_used_percent) = value;
    return changed;
  }
  Limits* limits = limits_of(changed, rule);
  if (limits == nullptr || !has_side(*limits, rule)) refuse(name);
  if (rule.side != "max") limits->min = value;
  if (rule.side != "min") limits->max = value;
  return changed;
}

std::optional<double> limit_of(const ScenarioDraft& draft, std::string_view name) {
  ScenarioDraft copy = draft;
  const RuleName rule = parsed_rule(name);
  if (rule.kind == "bins") return draft.bins ? std::optional<double>(*draft.bins) : std::nullopt;
  if (rule.kind == "stock" || rule.kind == "least") {
    const MaterialDraft* material = find_material(copy, rule.subject);
    if (material == nullptr) refuse(name);
    return rule.kind == "stock" ? material->stock_kg : material->min_if_used_percent;
  }
  const Limits* limits = limits_of(copy, rule);
  if (limits == nullptr) return {};
  return rule.side == "max" ? limits->max : limits->min;
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
