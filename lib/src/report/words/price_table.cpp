#include "report/words/price_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

/// Changes that nobody could pay are none.
constexpr double no_change = 1e-9;

/// Rise of the cost with one unit more, and with one unit less, of the limit.
struct Changes {
  Known<double> more{};
  Known<double> less{};
};

Known<double> negative(const Known<double>& price) {
  return price ? Known<double>(-*price) : price;
}

Changes changes_of(const BindingRule& rule) {
  if (rule.id.kind == RuleKind::bins) return {rule.shadow_price, {}};
  if (rule.unique == true) return {rule.shadow_price, -rule.shadow_price};
  return {rule.price_above, negative(rule.price_below)};
}

/// An end of the interval: a limit, `-` where it has no end, `?` where that was not looked for.
std::string end_text(const Known<double>& end) {
  constexpr int digits = 4;
  if (end) return plain_text(*end, digits);
  return end.is_none() ? "-" : "?";
}

class PriceTable {
 public:
  explicit PriceTable(const Blend& blend) : blend_(blend) {
    const std::string money = cost_heading(blend.currency, blend.basis, blend.units);
    table_.add_words("rule");
    table_.add_words("line");
    table_.add_words("limit");
    table_.add_numbers("one more, " + money);
    table_.add_numbers("one less, " + money);
    table_.add_numbers("from");
    table_.add_numbers("to");
    table_.add_numbers("pays for, " + money);
  }

  Table table() && {
    for (const BindingRule& rule : blend_.binding) add(rule);
    if (blend_.cost_parts_add_up) add_rest();
    return std::move(table_);
  }

 private:
  void add(const BindingRule& rule);
  void add_rest();
  /// What a rule pays for, once: a rule with two halves has one part.
  std::string part_text(const std::string& rule);

  const Blend& blend_;
  Table table_{};
  double told_ = 0;  ///< of the parts that have a line
};

std::string PriceTable::part_text(const std::string& rule) {
  const auto part = std::ranges::find(blend_.cost_parts, rule, &CostPart::rule);
  if (!blend_.cost_parts_add_up || part == blend_.cost_parts.end()) return {};
  told_ += part->cost;
  return money_text(part->cost);
}

void PriceTable::add(const BindingRule& rule) {
  const Changes changes = changes_of(rule);
  const bool bins = rule.id.kind == RuleKind::bins;
  const bool interval = rule.unique == true || !rule.unique;
  table_.add_row({rule.rule, rule.place ? std::to_string(rule.place.line) : "",
                  limit_text(rule.limit, rule.price_unit.per), change_text(changes.more),
                  bins ? "" : change_text(changes.less),
                  bins || !interval ? "" : end_text(rule.holds_from),
                  bins || !interval ? "" : end_text(rule.holds_to), part_text(rule.rule)});
}

/// The mass of the product and what else the rules of the table do not pay for, then the sum.
void PriceTable::add_rest() {
  const double cost = blend_.cost_per_ha.value_or(blend_.cost_per_t);
  const std::string mass = part_text("mass");
  const auto row = [&](const char* name, std::string money) {
    table_.add_row({name, "", "", "", "", "", "", std::move(money)});
  };
  if (!mass.empty()) row("mass, whatever it holds", mass);
  if (std::fabs(cost - told_) >= 0.005) row("other rules", money_text(cost - told_));
  row("total", money_text(cost));
}

/// What the figures of the table mean, with no more words than its rows call for.
std::string legend(const Blend& blend) {
  std::string words =
      "\"One more\" and \"one less\" are what a unit more or less of that limit alone adds to the "
      "cost, while the limit lies between \"from\" and \"to\".";
  const auto& rules = blend.binding;
  if (std::ranges::any_of(rules, [](const BindingRule& rule) { return rule.unique == false; }))
    words += " Where they differ in size, the recipe changes exactly at the limit.";
  if (std::ranges::any_of(rules, [](const BindingRule& rule) { return !rule.unique; }))
    words += " \"?\" was not computed.";
  if (blend.cost_parts_add_up) words += " What the rules pay for adds up to the cost.";
  return words;
}

}  // namespace

std::string change_text(const Known<double>& rise) {
  if (rise.is_none()) return "no blend";
  if (!rise) return "?";
  if (std::fabs(*rise) < no_change) return "0";
  return (*rise > 0 ? "+" : "-") + price_text(std::fabs(*rise));
}

Table price_table(const Blend& blend) { return PriceTable(blend).table(); }

void write_binding(Page& page, const Blend& blend) {
  if (blend.binding.empty() && blend.binding_complete) return;
  page.heading("What sets the price");
  page.table(price_table(blend));
  page.item("  ", legend(blend));
  for (const BindingRule& rule : blend.binding)
    if (rule.declared)
      page.item("  ", fmt::format("{}: {} is declared, and its tolerance leaves {}; the tolerance "
                                  "itself changes with what is declared.",
                                  rule.rule, limit_text(*rule.declared, rule.price_unit.per),
                                  limit_text(rule.limit, rule.price_unit.per)));
  if (!blend.binding_complete)
    page.item("  ",
              "Other limits that are reached may cost something too; not all of them were "
              "looked at.");
}

}  // namespace leastwise::report
