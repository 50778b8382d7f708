#include "report/words/rule_words.hpp"

#include <fmt/format.h>

#include <string_view>

#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

std::string_view side_in_words(RuleSide side) {
  switch (side) {
    case RuleSide::min:
      return "at least ";
    case RuleSide::exactly:
      return "exactly ";
    case RuleSide::max:
    case RuleSide::none:
      break;
  }
  return "at most ";
}

}  // namespace

std::string limit_text(double limit, LimitUnit unit, int digits) {
  if (unit == LimitUnit::none) return plain_text(limit, digits);
  return fmt::format("{} {}", plain_text(limit, digits), to_string(unit));
}

std::string with_unit(std::string heading, LimitUnit unit) {
  if (unit != LimitUnit::none) heading += ", " + std::string(to_string(unit));
  return heading;
}

std::string rule_in_words(const RuleId& id, std::optional<double> limit, LimitUnit unit) {
  if (id.kind == RuleKind::exclusion)
    return fmt::format("{} and {} never in one blend", id.subject, id.object);
  if (!limit) return to_string(id);
  const std::string how_much = std::string(side_in_words(id.side)) + limit_text(*limit, unit);
  switch (id.kind) {
    case RuleKind::rate:
      return fmt::format("{} of {}", how_much, id.subject);
    case RuleKind::grade:
      if (unit == LimitUnit::none) return fmt::format("{} of the product {}", id.subject, how_much);
      [[fallthrough]];
    case RuleKind::share:
      return fmt::format("{} {} in the product", how_much, id.subject);
    case RuleKind::ratio:
      return fmt::format("{}{} kg of {} for each kg of {}", side_in_words(id.side),
                         plain_text(*limit), id.subject, id.object);
    case RuleKind::total:
      return fmt::format("{} in total", how_much);
    case RuleKind::coating:
      return fmt::format("{} coating (powders and binder) on the granules", how_much);
    case RuleKind::left_out:
      return id.subject + " left out";
    case RuleKind::stock:
      return fmt::format("{} of {} in stock", how_much, id.subject);
    case RuleKind::bins:
      return fmt::format("at most {} granular materials", plain_text(*limit));
    case RuleKind::minimum_if_used:
      return fmt::format("{} either left out or at least {} of the product", id.subject,
                         limit_text(*limit, unit));
    case RuleKind::minimum_lot:
      return fmt::format("{} either left out or at least {} bought", id.subject,
                         limit_text(*limit, unit));
    case RuleKind::unasked:
      return id.subject + " stays out";
    case RuleKind::ceiling:
      return fmt::format("{} of {}, a built-in ceiling", how_much, id.subject);
    case RuleKind::exclusion:
      break;
  }
  return to_string(id);
}

}  // namespace leastwise::report
