#include "report/season/season_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "report/drawing/bars.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/words/price_table.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

std::string sided(RuleSide side, const std::string& amount) {
  switch (side) {
    case RuleSide::min:
      return "at least " + amount;
    case RuleSide::exactly:
      return "exactly " + amount;
    case RuleSide::max:
    case RuleSide::none:
      break;
  }
  return "at most " + amount;
}

/// Of the tonnes or hectares of a blend.
std::string amount_words(const ConflictingRule& rule) {
  const std::string unit = rule.rule == "tonnes" ? "t" : "ha";
  std::string words =
      sided(rule.id.side, fmt::format("{} {}", plain_text(rule.limit.value_or(0)), unit)) + ".";
  for (const auto& end : {rule.ends_below, rule.ends_above})
    if (end) {
      const double safe = *end < *rule.limit ? rounded_down(*end) : rounded_up(*end);
      words +=
          fmt::format(" If only this amount is changed, it must be {} {}.", plain_text(safe), unit);
    }
  if (rule.shortfall.is_none()) words += " No change of this amount alone ends the conflict.";
  return words;
}

}  // namespace

std::string by_period(const SeasonPlan& plan, std::size_t period) {
  return plan.periods.empty() ? std::string() : " by " + plan.periods[period];
}

std::string shared_words(const SeasonPlan& plan, const SharedLimitPlan& limit) {
  return sided(
      limit.side,
      fmt::format("{} kg of {}{}{}", plain_text(limit.limit_kg, 9), limit.material,
                  limit.yard.empty() ? "" : " from " + limit.yard, by_period(plan, limit.period)));
}

bool is_scarce(const SharedLimitPlan& limit) {
  const auto known_zero = [](const Known<double>& price) { return price && *price == 0; };
  if (!limit.yard.empty()) return false;  // who gets it from there is all the same
  return limit.shadow_price_per_t != 0 ||
         (limit.holds_from_kg.is_computed() && !known_zero(limit.price_below_per_t));
}

std::string change_words(const Known<double>& rise) {
  return rise.is_none() ? "no plan" : change_text(rise);
}

std::string conflict_words(const SeasonPlan& plan, const SeasonConflictRule& conflict) {
  const ConflictingRule& rule = conflict.rule;
  const auto named = [&] { return conflict.name + place_text(rule.place); };
  switch (conflict.of) {
    case SeasonConflictRule::Of::amount:
      return named() + ": " + amount_words(rule);
    case SeasonConflictRule::Of::run:
      return fmt::format("run {}: {}.", named(), rule_in_words(rule.id, rule.limit, rule.unit));
    case SeasonConflictRule::Of::shared: {
      if (rule.id.kind == RuleKind::minimum_lot)
        return fmt::format("{}: {}.", named(), rule_in_words(rule.id, rule.limit, rule.unit));
      const std::string kg = fmt::format("{} kg", plain_text(rule.limit.value_or(0), 9));
      const std::string way = giving_way(rule);
      return fmt::format("{}{}{}{}: {}.{}{}", conflict.name,
                         rule.id.object.empty() ? "" : " from " + rule.id.object,
                         by_period(plan, conflict.period), place_text(rule.place),
                         sided(rule.id.side, kg), way.empty() ? "" : " ", way);
    }
    case SeasonConflictRule::Of::blend:
      break;
  }
  const std::string way = giving_way(rule);
  const std::string detail =
      rule.detail.empty() ? "" : " " + capitalised(with_full_stop(rule.detail));
  return fmt::format("{}: {}.{}{}{}", named(), rule_in_words(rule.id, rule.limit, rule.unit),
                     detail, way.empty() ? "" : " ", way);
}

Picture scarce_picture(const SeasonPlan& plan) {
  std::vector<Bar> bars;
  for (const auto& limit : plan.shared) {
    if (!is_scarce(limit)) continue;
    for (const auto& use : limit.uses)
      bars.push_back(
          {limit.material + by_period(plan, limit.period) + ", " + plan.blends[use.blend].name,
           use.kg, use.kg_alone,
           fmt::format("{} / {}", amount_text(use.kg), amount_text(use.kg_alone))});
  }
  return bar_chart("Who takes what is scarce",
                   "kg; upper bar: in the plan, lower bar: if nothing were shared", bars);
}

}  // namespace leastwise::report
