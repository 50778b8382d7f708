#include "report/rule_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "report/numbers.hpp"

namespace leastwise::report {
namespace {

/// How the name of a rule of some kind begins, and whether it ends in its side.
struct Beginning {
  std::string_view words{};
  RuleKind kind = RuleKind::other;
  bool has_side = true;
};

constexpr std::array<Beginning, 11> beginnings{{{"rate", RuleKind::rate},
                                                {"grade", RuleKind::grade},
                                                {"ratio", RuleKind::ratio},
                                                {"total", RuleKind::total},
                                                {"coating", RuleKind::coating},
                                                {"share", RuleKind::share},
                                                {"without", RuleKind::left_out, false},
                                                {"stock", RuleKind::stock, false},
                                                {"bins", RuleKind::bins, false},
                                                {"min if used", RuleKind::minimum_if_used, false},
                                                {"apart", RuleKind::apart, false}}};

struct Side {
  std::string_view word{};
  RuleSide side = RuleSide::none;
};

constexpr std::array<Side, 3> sides{
    {{"min", RuleSide::min}, {"max", RuleSide::max}, {"exactly", RuleSide::exactly}}};

std::string_view side_in_words(RuleSide side) {
  switch (side) {
    case RuleSide::min:
      return "at least ";
    case RuleSide::exactly:
      return "exactly ";
    default:
      return "at most ";
  }
}

std::string ratio_in_words(const RuleName& name, double limit) {
  const std::size_t colon = name.subject.find(':');
  if (colon == std::string::npos) return {};
  return fmt::format("{}{} kg of {} for each kg of {}", side_in_words(name.side), plain_text(limit),
                     name.subject.substr(0, colon), name.subject.substr(colon + 1));
}

std::string apart_in_words(const RuleName& name, std::string_view rule) {
  constexpr std::string_view between = " / ";
  const std::size_t slash = name.subject.find(between);
  if (slash == std::string::npos) return std::string(rule);
  return fmt::format("{} and {} never in one blend", name.subject.substr(0, slash),
                     name.subject.substr(slash + between.size()));
}

}  // namespace

RuleName parsed_rule(std::string_view rule) {
  const auto* found = std::ranges::find_if(beginnings, [&](const Beginning& beginning) {
    const std::size_t length = beginning.words.size();
    return rule.starts_with(beginning.words) && (rule.size() == length || rule[length] == ' ');
  });
  if (found == beginnings.end()) return {};
  RuleName name{found->kind, {}, RuleSide::none};
  std::string_view rest = rule.substr(std::min(found->words.size() + 1, rule.size()));
  if (found->has_side) {
    const std::size_t space = rest.rfind(' ');
    const std::size_t last = space == std::string_view::npos ? 0 : space + 1;
    const auto* side = std::ranges::find(sides, rest.substr(last), &Side::word);
    if (side != sides.end()) {
      name.side = side->side;
      rest = rest.substr(0, last == 0 ? 0 : last - 1);
    }
  }
  name.subject = rest;
  return name;
}

bool is_percent(std::string_view unit) {
  return unit == "%" || unit == "percent" || unit == "percentage point";
}

std::string limit_text(double limit, std::string_view unit, int digits) {
  if (unit.empty()) return plain_text(limit, digits);
  return fmt::format("{} {}", plain_text(limit, digits), is_percent(unit) ? "%" : unit);
}

std::string rule_in_words(std::string_view rule, std::optional<double> limit,
                          std::string_view unit) {
  const RuleName name = parsed_rule(rule);
  if (name.kind == RuleKind::apart) return apart_in_words(name, rule);
  if (!limit) return std::string(rule);
  const std::string how_much = std::string(side_in_words(name.side)) + limit_text(*limit, unit);
  switch (name.kind) {
    case RuleKind::rate:
      return fmt::format("{} of {}", how_much, name.subject);
    case RuleKind::grade:
      return fmt::format("{} {} in the product", how_much, name.subject);
    case RuleKind::ratio:
      if (std::string words = ratio_in_words(name, *limit); !words.empty()) return words;
      return std::string(rule);
    case RuleKind::total:
      return fmt::format("{} in total", how_much);
    case RuleKind::coating:
      return fmt::format("{} coating (powders and binder) on the granules", how_much);
    case RuleKind::left_out:
      return name.subject + " left out";
    case RuleKind::share:
      return fmt::format("{} {} in the product", how_much, name.subject);
    case RuleKind::stock:
      return fmt::format("{} of {} in stock", how_much, name.subject);
    case RuleKind::bins:
      return fmt::format("at most {} granular materials", plain_text(*limit));
    case RuleKind::minimum_if_used:
      return fmt::format("{} either left out or at least {} of the product", name.subject,
                         limit_text(*limit, unit));
    case RuleKind::apart:
    case RuleKind::other:
      break;
  }
  return fmt::format("{} ({})", rule, limit_text(*limit, unit));
}

}  // namespace leastwise::report
