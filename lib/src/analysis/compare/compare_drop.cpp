#include <leastwise/rule_id.hpp>

#include <algorithm>
#include <utility>

#include "analysis/compare/compare_variants.hpp"

namespace leastwise::insight {
namespace {

/// Takes the side that `rule` names out of `limits`. Returns: false when it names none.
bool drop_side(Limits& limits, RuleId quantity, std::string_view rule) {
  const auto is = [&](RuleSide side) {
    quantity.side = side;
    return rule == to_string(quantity);
  };
  if (limits.exact() && is(RuleSide::exactly)) {
    limits = Limits{};
    return true;
  }
  if (limits.has_min() && is(RuleSide::min)) {
    limits.min = Limits{}.min;
    return true;
  }
  if (limits.has_max() && is(RuleSide::max)) {
    limits.max = Limits{}.max;
    return true;
  }
  return false;
}

bool drop_target(std::vector<TargetDraft>& targets, RuleKind kind, std::string_view rule) {
  for (auto target = targets.begin(); target != targets.end(); ++target) {
    if (!drop_side(target->limits, {kind, target->nutrient, {}, {}}, rule)) continue;
    if (target->limits == Limits{}) targets.erase(target);
    return true;
  }
  return false;
}

bool drop_ratio(std::vector<RatioDraft>& ratios, std::string_view rule) {
  for (auto ratio = ratios.begin(); ratio != ratios.end(); ++ratio) {
    if (!drop_side(ratio->limits, {RuleKind::ratio, ratio->of, ratio->to, {}}, rule)) continue;
    if (ratio->limits == Limits{}) ratios.erase(ratio);
    return true;
  }
  return false;
}

bool drop_of_material(MaterialDraft& material, std::string_view rule) {
  const auto is = [&](RuleKind kind) {
    return rule == to_string(RuleId{kind, material.name, {}, RuleSide::none});
  };
  if (material.share_percent &&
      drop_side(*material.share_percent, {RuleKind::share, material.name, {}, {}}, rule)) {
    if (*material.share_percent == Limits{}) material.share_percent.reset();
    return true;
  }
  if (material.stock_kg && is(RuleKind::stock)) {
    material.stock_kg.reset();
    return true;
  }
  if (material.min_if_used_percent && is(RuleKind::minimum_if_used)) {
    material.min_if_used_percent.reset();
    return true;
  }
  return false;
}

}  // namespace

bool drop_rule(ScenarioDraft& draft, std::string_view rule) {
  if (drop_target(draft.rates_kg_per_ha, RuleKind::rate, rule) ||
      drop_target(draft.grade_percent, RuleKind::grade, rule) || drop_ratio(draft.ratios, rule))
    return true;
  if (draft.total_kg_per_ha && drop_side(*draft.total_kg_per_ha, {.kind = RuleKind::total}, rule)) {
    if (*draft.total_kg_per_ha == Limits{}) draft.total_kg_per_ha.reset();
    return true;
  }
  if (rule == to_string(RuleId{.kind = RuleKind::coating, .side = RuleSide::max})) {
    draft.coating_percent = Limits{Limits{}.min, 100};
    return true;
  }
  if (draft.bins && rule == to_string(RuleId{.kind = RuleKind::bins})) {
    draft.bins.reset();
    return true;
  }
  return std::any_of(draft.materials.begin(), draft.materials.end(),
                     [&](MaterialDraft& material) { return drop_of_material(material, rule); });
}

}  // namespace leastwise::insight
