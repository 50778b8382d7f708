#include <leastwise/nutrient.hpp>
#include <leastwise/rule_id.hpp>

namespace leastwise {

std::string_view to_string(RuleKind kind) {
  switch (kind) {
    case RuleKind::rate:
      return "rate";
    case RuleKind::grade:
      return "grade";
    case RuleKind::ratio:
      return "ratio";
    case RuleKind::total:
      return "total";
    case RuleKind::coating:
      return "coating";
    case RuleKind::share:
      return "share";
    case RuleKind::left_out:
      return "left-out";
    case RuleKind::stock:
      return "stock";
    case RuleKind::minimum_if_used:
      return "minimum-if-used";
    case RuleKind::exclusion:
      return "exclusion";
    case RuleKind::bins:
      return "bins";
    case RuleKind::unasked:
      return "unasked";
    case RuleKind::ceiling:
      return "ceiling";
    case RuleKind::minimum_lot:
      return "minimum-lot";
  }
  return {};
}

std::string_view to_string(RuleSide side) {
  switch (side) {
    case RuleSide::none:
      return "none";
    case RuleSide::min:
      return "min";
    case RuleSide::max:
      return "max";
    case RuleSide::exactly:
      return "exactly";
  }
  return {};
}

std::string to_string(const RuleId& id) {
  std::string name;
  switch (id.kind) {
    case RuleKind::rate:
    case RuleKind::grade:
    case RuleKind::share:
    case RuleKind::stock:
    case RuleKind::unasked:
    case RuleKind::ceiling:
      name = std::string(to_string(id.kind)) + " " + id.subject;
      break;
    case RuleKind::ratio:
      name = "ratio " + id.subject + ":" + id.object;
      break;
    case RuleKind::left_out:
      name = "without " + id.subject;
      break;
    case RuleKind::minimum_if_used:
      name = "min if used " + id.subject;
      break;
    case RuleKind::minimum_lot:
      name = "lot " + id.subject;
      break;
    case RuleKind::exclusion:
      name = "apart " + id.subject + " / " + id.object;
      break;
    case RuleKind::total:
    case RuleKind::coating:
    case RuleKind::bins:
      name = to_string(id.kind);
      break;
  }
  if (id.side != RuleSide::none) name += " " + std::string(to_string(id.side));
  return name;
}

std::string_view to_string(LimitUnit unit) {
  switch (unit) {
    case LimitUnit::none:
      break;
    case LimitUnit::kg_per_ha:
      return "kg/ha";
    case LimitUnit::percent:
      return "%";
    case LimitUnit::kg:
      return "kg";
    case LimitUnit::bins:
      return "bins";
    case LimitUnit::lb_per_acre:
      return "lb/acre";
    case LimitUnit::lb:
      return "lb";
  }
  return "";
}

LimitUnit limit_unit(RuleKind kind) {
  switch (kind) {
    case RuleKind::rate:
    case RuleKind::total:
    case RuleKind::ceiling:
      return LimitUnit::kg_per_ha;
    case RuleKind::grade:
    case RuleKind::coating:
    case RuleKind::share:
    case RuleKind::left_out:
    case RuleKind::unasked:
    case RuleKind::minimum_if_used:
      return LimitUnit::percent;
    case RuleKind::stock:
    case RuleKind::minimum_lot:
      return LimitUnit::kg;
    case RuleKind::bins:
      return LimitUnit::bins;
    case RuleKind::ratio:
    case RuleKind::exclusion:
      break;
  }
  return LimitUnit::none;
}

LimitUnit limit_unit(const RuleId& id) {
  const bool own_unit = id.kind == RuleKind::grade && !is_percentage(id.subject);
  return own_unit ? LimitUnit::none : limit_unit(id.kind);
}

std::string to_string(const PriceUnit& unit) {
  switch (unit.per) {
    case LimitUnit::none:
      return unit.money + " per unit of the limit";
    case LimitUnit::bins:
      return unit.money + " per bin";
    case LimitUnit::kg_per_ha:
    case LimitUnit::percent:
    case LimitUnit::kg:
    case LimitUnit::lb_per_acre:
    case LimitUnit::lb:
      break;
  }
  return unit.money + " per " + std::string(to_string(unit.per));
}

}  // namespace leastwise
