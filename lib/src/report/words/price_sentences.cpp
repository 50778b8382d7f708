#include "report/words/price_sentences.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

/// Prices whose effect nobody could pay are nothing.
constexpr double no_price = 1e-9;

/// A change of the limit, as the sentences name it, and the money that goes with it.
struct LimitStep {
  std::string opening{};  ///< `Asking for one kg/ha more N`
  std::string less{};     ///< `one less`
  std::string amount{};   ///< `one kg/ha`
  std::string money{};
  LimitUnit unit = LimitUnit::none;  ///< of the limit
  double size = 1;
};

/// A step a reader can picture beside the limit: one unit, or 0.1 for a limit of 1 to 10, 0.01 for
/// one of 0.1 to 1, and so on.
double step_size(double limit) {
  const double magnitude = std::abs(limit);
  if (magnitude == 0 || !std::isfinite(magnitude)) return 1;
  return std::min(1.0, std::pow(10.0, std::floor(std::log10(magnitude) + 1e-9) - 1));
}

/// `one kg/ha`, `0.1 percentage points`, `0.01`.
std::string step_text(double size, LimitUnit unit) {
  std::string count = size == 1 ? "one" : plain_text(size);
  if (unit == LimitUnit::none) return count;
  if (unit == LimitUnit::percent)
    return count + (size == 1 ? " percentage point" : " percentage points");
  return fmt::format("{} {}", count, to_string(unit));
}

/// What there is more or less of, after `more`; empty where nothing needs to be said.
std::string subject_text(const RuleId& id) {
  switch (id.kind) {
    case RuleKind::rate:
    case RuleKind::grade:
    case RuleKind::share:
    case RuleKind::left_out:
    case RuleKind::unasked:
    case RuleKind::ceiling:
      return " " + id.subject;
    case RuleKind::ratio:
      return fmt::format(" in the ratio {}:{}", id.subject, id.object);
    case RuleKind::total:
      return " in total";
    case RuleKind::coating:
      return " coating";
    case RuleKind::stock:
      return fmt::format(" {} in stock", id.subject);
    case RuleKind::minimum_if_used:
    case RuleKind::bins:
    case RuleKind::exclusion:
      break;
  }
  return {};
}

std::string_view opening_of(RuleSide side) {
  switch (side) {
    case RuleSide::min:
      return "asking for ";
    case RuleSide::max:
      return "allowing ";
    default:
      return "";
  }
}

LimitStep step_of(const BindingRule& rule) {
  LimitStep step;
  step.money = rule.price_unit.money;
  step.unit = rule.price_unit.per;
  step.size = step_size(rule.limit);
  step.amount = step_text(step.size, step.unit);
  step.less = (step.size == 1 ? "one" : plain_text(step.size)) + std::string(" less");
  if (rule.id.kind == RuleKind::minimum_if_used) {
    step.opening = "Raising its least share by " + step_text(step.size, step.unit);
    return step;
  }
  step.opening = capitalised(fmt::format("{}{} more{}", opening_of(rule.id.side),
                                         step_text(step.size, step.unit), subject_text(rule.id)));
  return step;
}

/// `costs 1.12 USD/ha`, `saves 0.35 USD/ha` or `changes nothing`; `rise` is what the cost gains.
std::string effect(double rise, const LimitStep& step) {
  if (std::abs(rise) < no_price) return "changes nothing";
  return fmt::format("{} {} {}", rise > 0 ? "costs" : "saves", price_text(std::abs(rise)),
                     step.money);
}

std::string interval(const BindingRule& rule, const LimitStep& step) {
  constexpr int digits = 4;
  if (!rule.holds_from.is_computed() && !rule.holds_to.is_computed())
    return " How far this holds was not looked for.";
  if (!rule.holds_from.is_computed())
    return (rule.holds_to
                ? fmt::format(" This holds up to {}", limit_text(*rule.holds_to, step.unit, digits))
                : std::string(" This holds for any larger limit")) +
           "; how far downwards was not looked for.";
  if (!rule.holds_to.is_computed())
    return (rule.holds_from ? fmt::format(" This holds from {}",
                                          limit_text(*rule.holds_from, step.unit, digits))
                            : std::string(" This holds for any smaller limit")) +
           "; how far upwards was not looked for.";
  const auto text = [&](double limit) { return limit_text(limit, step.unit, digits); };
  if (rule.holds_from && rule.holds_to && *rule.holds_from == *rule.holds_to) return {};
  if (rule.holds_from && rule.holds_to) {
    return fmt::format(" This holds from {} to {}.", plain_text(*rule.holds_from, digits),
                       text(*rule.holds_to));
  }
  if (rule.holds_from) return fmt::format(" This holds from {} upwards.", text(*rule.holds_from));
  if (rule.holds_to) return fmt::format(" This holds up to {}.", text(*rule.holds_to));
  return {};
}

/// The limit has one price in both directions.
std::string two_way(const BindingRule& rule, const LimitStep& step) {
  const double rise = rule.shadow_price * step.size;
  if (std::abs(rise) < no_price) return step.opening + " changes nothing." + interval(rule, step);
  return fmt::format("{} {}, {} {} as much.{}", step.opening, effect(rise, step), step.less,
                     rise > 0 ? "saves" : "costs", interval(rule, step));
}

/// The limit sits on a kink: up and down have prices of their own, or no blend at all.
std::string one_sided(const BindingRule& rule, const LimitStep& step) {
  const std::string up = rule.price_above ? effect(*rule.price_above * step.size, step)
                                          : std::string("leaves no blend");
  const std::string down = rule.price_below ? effect(-*rule.price_below * step.size, step)
                                            : std::string("leaves no blend");
  return fmt::format("{} {}, {} {}.", step.opening, up, step.less, down);
}

/// One side, or neither, was looked at.
std::string half_known(const BindingRule& rule, const LimitStep& step) {
  constexpr std::string_view unknown = "was not looked for";
  switch (known_sides(rule)) {
    case KnownSides::above:
      return fmt::format(
          "{} {}; what {} does {}, nor how far this holds.", step.opening,
          rule.price_above ? effect(*rule.price_above * step.size, step) : "leaves no blend",
          step.less, unknown);
    case KnownSides::below:
      return fmt::format(
          "{} {}; what more does {}, nor how far this holds.", capitalised(step.less),
          rule.price_below ? effect(-*rule.price_below * step.size, step) : "leaves no blend",
          unknown);
    case KnownSides::none:
    case KnownSides::both:
      break;
  }
  return fmt::format(
      "Its price in this blend is {} {} for {}; whether more and less cost the same, and how far "
      "this holds, {}.",
      price_text(std::abs(rule.shadow_price) * step.size), step.money, step.amount, unknown);
}

/// Bins come whole: what one more does says nothing of one less.
std::string one_more_bin(const BindingRule& rule, const LimitStep& step) {
  return fmt::format("Room for one more granular material {}.", effect(rule.shadow_price, step));
}

}  // namespace

std::string price_in_words(const BindingRule& rule) {
  const LimitStep step = step_of(rule);
  if (rule.id.kind == RuleKind::bins) return one_more_bin(rule, step);
  std::string words = !rule.unique   ? half_known(rule, step)
                      : *rule.unique ? two_way(rule, step)
                                     : one_sided(rule, step);
  if (rule.declared)
    words += fmt::format(
        " This is about the {} that the tolerance leaves of the {} declared; the tolerance itself "
        "changes with what is declared.",
        limit_text(rule.limit, step.unit), limit_text(*rule.declared, step.unit));
  return words;
}

}  // namespace leastwise::report
