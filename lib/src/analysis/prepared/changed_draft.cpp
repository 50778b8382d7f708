#include "analysis/prepared/changed_draft.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "base/text/wording.hpp"
#include "scenario/units.hpp"

namespace leastwise::analysis {
namespace {

/// Moves the side that `side` names. Returns: false when `limits` does not have it.
bool move_side(Limits& limits, RuleSide side, double limit) {
  if (limits.exact() != (side == RuleSide::exactly)) return false;
  if (side == RuleSide::exactly)
    limits = {limit, limit};
  else if (side == RuleSide::min && limits.has_min())
    limits.min = limit;
  else if (side == RuleSide::max && limits.has_max())
    limits.max = limit;
  else
    return false;
  return true;
}

bool move_side(std::optional<Limits>& limits, RuleSide side, double limit) {
  return limits && move_side(*limits, side, limit);
}

bool move_target(std::vector<TargetDraft>& targets, const RuleId& rule, double limit) {
  const auto found = std::ranges::find(targets, rule.subject, &TargetDraft::nutrient);
  return found != targets.end() && move_side(found->limits, rule.side, limit);
}

bool move_ratio(std::vector<RatioDraft>& ratios, const RuleId& rule, double limit) {
  return std::ranges::any_of(ratios, [&](RatioDraft& ratio) {
    return ratio.of == rule.subject && ratio.to == rule.object &&
           move_side(ratio.limits, rule.side, limit);
  });
}

bool move_number(std::optional<double>& number, double limit) {
  if (!number) return false;
  number = limit;
  return true;
}

bool move_of_material(std::vector<MaterialDraft>& materials, const RuleId& rule, double limit) {
  const auto found = std::ranges::find(materials, rule.subject, &MaterialDraft::name);
  if (found == materials.end()) return false;
  if (rule.kind == RuleKind::stock) return move_number(found->stock_kg, limit);
  if (rule.kind == RuleKind::minimum_if_used) return move_number(found->min_if_used_percent, limit);
  if (rule.kind == RuleKind::minimum_lot)
    return move_number(found->minimum_lot_t, limit / kg_per_tonne);
  return move_side(found->share_percent, rule.side, limit);
}

bool move_bins(std::optional<int>& bins, double limit) {
  if (!bins) return false;
  if (!(std::fabs(limit) <= 1e6) || limit != std::floor(limit))
    throw std::invalid_argument("bins must be a whole number");
  bins = static_cast<int>(limit);
  return true;
}

/// The coating has a limit of its own where the draft states none.
bool move_coating(std::optional<Limits>& coating, const RuleId& rule, double limit) {
  if (rule.side != RuleSide::max) return false;
  if (!coating) coating.emplace();
  coating->max = limit;
  return true;
}

bool moved(ScenarioDraft& draft, const RuleId& rule, double limit) {
  switch (rule.kind) {
    case RuleKind::rate:
      return move_target(draft.rates_kg_per_ha, rule, limit);
    case RuleKind::grade:
      return move_target(draft.grade_percent, rule, limit);
    case RuleKind::ratio:
      return move_ratio(draft.ratios, rule, limit);
    case RuleKind::total:
      return move_side(draft.total_kg_per_ha, rule.side, limit);
    case RuleKind::coating:
      return move_coating(draft.coating_percent, rule, limit);
    case RuleKind::share:
    case RuleKind::stock:
    case RuleKind::minimum_if_used:
    case RuleKind::minimum_lot:
      return move_of_material(draft.materials, rule, limit);
    case RuleKind::bins:
      return move_bins(draft.bins, limit);
    case RuleKind::left_out:
    case RuleKind::exclusion:
    case RuleKind::unasked:
    case RuleKind::ceiling:
      break;
  }
  throw std::invalid_argument("the rule " + in_quotes(to_string(rule)) +
                              " has no limit that a scenario states");
}

}  // namespace

void move_limit(ScenarioDraft& draft, const RuleId& rule, double limit) {
  if (!moved(draft, rule, limit))
    throw std::out_of_range("the scenario has no rule " + in_quotes(to_string(rule)));
}

void leave_out(ScenarioDraft& draft, const std::string& material) {
  auto own = std::ranges::find(draft.materials, material, &MaterialDraft::name);
  if (own == draft.materials.end()) {
    own = draft.materials.insert(draft.materials.end(), MaterialDraft{});
    own->name = material;
  }
  own->left_out = true;
}

}  // namespace leastwise::analysis
