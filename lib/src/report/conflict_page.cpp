#include <fmt/format.h>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/recipe_table.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

/// A limit given way from `from` to `to`, rounded so that the reader may copy it: never short of
/// what is needed. An equality has no safe side.
std::string given_way(double from, double to, RuleSide side, LimitUnit unit) {
  const double safe = side == RuleSide::exactly ? to
                      : to < from               ? rounded_down(to)
                                                : rounded_up(to);
  return limit_text(safe, unit);
}

std::string amount_of_change(double amount, LimitUnit unit) {
  std::string number = plain_text(rounded_up(amount));
  if (unit == LimitUnit::none) return number;
  return fmt::format("{} {}", number,
                     unit == LimitUnit::percent ? "percentage points" : to_string(unit));
}

}  // namespace

std::string giving_way(const ConflictingRule& rule) {
  if (rule.id.kind == RuleKind::unasked || rule.id.kind == RuleKind::ceiling) return {};
  const bool choice = !rule.limit || rule.id.kind == RuleKind::bins ||
                      rule.id.kind == RuleKind::minimum_if_used ||
                      rule.id.kind == RuleKind::minimum_lot;
  if (!rule.shortfall) {
    if (choice) return "This rule is a choice; no amount can relax it.";
    return rule.shortfall.is_none() ? "No change of this limit alone ends the conflict."
                                    : "How far it must change was not computed.";
  }
  if (rule.id.kind == RuleKind::left_out)
    return fmt::format("Let in with {}, it would end this conflict.",
                       limit_text(rounded_up(*rule.shortfall), rule.unit));
  std::string sentence = fmt::format("If only this rule is relaxed, it must change by {}",
                                     amount_of_change(*rule.shortfall, rule.unit));
  if (!rule.limit) return sentence + ".";
  const auto end = [&](const Known<double>& limit) {
    return given_way(*rule.limit, *limit, rule.id.side, rule.unit);
  };
  if (rule.ends_below && rule.ends_above) {
    const bool down = *rule.limit - *rule.ends_below <= *rule.ends_above - *rule.limit;
    return fmt::format("{}, to {}; the other way it would be {}.", sentence,
                       end(down ? rule.ends_below : rule.ends_above),
                       end(down ? rule.ends_above : rule.ends_below));
  }
  if (rule.ends_below || rule.ends_above)
    sentence += ", to " + end(rule.ends_below ? rule.ends_below : rule.ends_above);
  return sentence + ".";
}

namespace {

void write_conflicting_rules(Page& page, const Conflict& conflict) {
  page.heading(conflict.rules.size() == 1 ? "The rule that cannot be met"
                                          : "The rules that conflict");
  for (const ConflictingRule& rule : conflict.rules) {
    const std::string detail =
        rule.detail.empty() ? "" : " " + capitalised(with_full_stop(rule.detail));
    const std::string way = giving_way(rule);
    page.item("  - ", fmt::format("{}{}: {}.{}{}{}", rule.rule, place_text(rule.place),
                                  rule_in_words(rule.id, rule.limit, rule.unit), detail,
                                  way.empty() ? "" : " ", way));
  }
  if (conflict.rules.size() < 2) return;
  page.item("  ",
            conflict.irreducible
                ? "Each of them has its part in this: drop any one and the rest agree. The amounts "
                  "end this conflict while the others of the list are kept; rules outside the list "
                  "may still ask for more."
                : "Some of them may not be needed for the conflict; the search for the fewest did "
                  "not finish.");
}

std::string nearest_cost(const Conflict& conflict) {
  if (conflict.basis == Basis::per_hectare && conflict.nearest_cost_per_ha) {
    return cost_text(*conflict.nearest_cost_per_ha, conflict.currency,
                     unit_name(Measure::land, conflict.units));
  }
  if (conflict.nearest_cost_per_t)
    return cost_text(*conflict.nearest_cost_per_t, conflict.currency,
                     unit_name(Measure::goods, conflict.units));
  return {};
}

void write_nearest(Page& page, const Conflict& conflict) {
  page.heading("The nearest blend");
  if (conflict.nearest.empty()) {
    page.item("  ", conflict.nearest_blend.is_none()
                        ? "No change of limits makes a blend possible."
                        : "No changed order was found that makes a blend possible; the search for "
                          "one was not made, or did not finish.");
    return;
  }
  const std::string cost = nearest_cost(conflict);
  const bool one = conflict.nearest.size() == 1;
  const std::string_view size = conflict.nearest_is_least ? "smallest" : "small";
  page.item("  ", fmt::format("With every rule of the scenario counted, {} {} relative {} a blend "
                              "possible{}:",
                              one ? "this" : "these", size,
                              one ? "change of limits makes" : "changes of limits together make",
                              cost.empty() ? "" : " for " + cost));
  for (const Change& change : conflict.nearest) {
    page.item("  - ", fmt::format("{}{}: from {} to {}", change.rule, place_text(change.place),
                                  limit_text(change.from, change.unit),
                                  given_way(change.from, change.to, change.id.side, change.unit)));
  }
  if (!conflict.nearest_blend) return;
  page.blank();
  page.table(recipe_table(*conflict.nearest_blend));
}

}  // namespace

void write_conflict(Page& page, const Conflict& conflict) {
  page.title(conflict.title.empty() ? "No blend" : conflict.title);
  page.warning("No blend obeys every rule of this scenario.");
  write_conflicting_rules(page, conflict);
  write_nearest(page, conflict);
  write_notes(page, conflict.notes);
  if (conflict.nearest_blend)
    write_safety(page, (*conflict.nearest_blend).portions, (*conflict.nearest_blend).supply,
                 conflict.notes);
  else
    write_safety(page, {}, {}, conflict.notes);
}

}  // namespace leastwise::report
