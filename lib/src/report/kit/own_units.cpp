#include "report/kit/own_units.hpp"

#include <algorithm>
#include <string>
#include <utility>

namespace leastwise::report {
namespace {

/// Turns the figures of one answer into US units, in place.
class UsUnits {
 public:
  explicit UsUnits(Basis basis) : basis_(basis) {}

  static void turn(double& value, Measure measure) {
    value = from_metric(value, measure, Units::us);
  }
  template <class Maybe>
  static void turn(Maybe& value, Measure measure) {
    if (value) value = from_metric(*value, measure, Units::us);
  }
  static void turn(Limits& limits, Measure measure) {
    if (limits.has_min()) turn(limits.min, measure);
    if (limits.has_max()) turn(limits.max, measure);
  }
  /// A cost by basis.
  template <class Money>
  void cost(Money& money) const {
    turn(money, basis_ == Basis::per_hectare ? Measure::price_of_land : Measure::price_of_goods);
  }
  /// An amount by basis.
  template <class Amount>
  void amount(Amount& kg) const {
    turn(kg, basis_ == Basis::per_hectare ? Measure::rate : Measure::dose);
  }
  /// A limit in `unit`.
  template <class Value>
  static void limit(Value& value, LimitUnit unit) {
    if (unit == LimitUnit::kg_per_ha) turn(value, Measure::rate);
    if (unit == LimitUnit::kg) turn(value, Measure::mass);
  }
  /// Cost by basis per unit of a limit.
  template <class Price>
  void price(Price& price, LimitUnit unit) const {
    cost(price);
    if (!price) return;
    double one = 1;
    limit(one, unit);
    price = *price / one;
  }
  static LimitUnit us_unit(LimitUnit unit) {
    if (unit == LimitUnit::kg_per_ha) return LimitUnit::lb_per_acre;
    return unit == LimitUnit::kg ? LimitUnit::lb : unit;
  }

  void operator()(Portion& portion) const {
    turn(portion.kg_per_ha, Measure::rate);
    turn(portion.kg_per_t, Measure::dose);
    turn(portion.cost_per_t, Measure::price_of_goods);
    turn(portion.cost_per_ha, Measure::price_of_land);
  }
  void operator()(Supply& supply) const {
    turn(supply.kg_per_ha, Measure::rate);
    turn(supply.effective_kg_per_ha, Measure::rate);
    turn(supply.rate_kg_per_ha, Measure::rate);
  }
  void operator()(BindingRule& rule) const;
  void operator()(UnusedMaterial& unused) const {
    turn(unused.price_per_t, Measure::price_of_goods);
    turn(unused.enters_below_price_per_t, Measure::price_of_goods);
  }
  void operator()(ExclusionCost& pair) const {
    turn(pair.costs_per_t, Measure::price_of_goods);
    turn(pair.costs_per_ha, Measure::price_of_land);
  }
  void operator()(CostPart& part) const {
    amount(part.kg);
    turn(part.price_per_kg, Measure::price_of_mass);
    cost(part.cost);
  }
  void operator()(MaterialNutrientCost& part) const {
    turn(part.price_per_kg, Measure::price_of_mass);
  }
  void operator()(BlendNutrientCost& part) const {
    amount(part.kg);
    turn(part.price_per_kg, Measure::price_of_mass);
    cost(part.cost);
  }
  void operator()(CostPerNutrient& costs) const {
    all(costs.materials);
    all(costs.blend);
    cost(costs.rest);
  }
  void operator()(RuleWorth& worth) const { turn(worth.worth_per_t, Measure::price_of_goods); }
  void operator()(WhyMaterial& why) const;
  void operator()(ConflictingRule& rule) const {
    limit(rule.limit, rule.unit);
    limit(rule.shortfall, rule.unit);
    limit(rule.ends_below, rule.unit);
    limit(rule.ends_above, rule.unit);
    rule.unit = us_unit(rule.unit);
  }
  void operator()(Change& change) const {
    limit(change.from, change.unit);
    limit(change.to, change.unit);
    change.unit = us_unit(change.unit);
  }
  void operator()(Blend& blend) const;
  void operator()(Conflict& conflict) const;
  void operator()(Stopped& stopped) const {
    cost(stopped.best_cost);
    cost(stopped.lower_bound);
    all(stopped.best_portions);
  }
  void operator()(Ending& ending) const {
    if (ending.conflict) (*this)(*ending.conflict);
  }
  template <class Items>
  void all(Items& items) const {
    for (auto& item : items) (*this)(item);
  }

 private:
  Basis basis_;
};

void UsUnits::operator()(BindingRule& rule) const {
  const LimitUnit unit = rule.price_unit.per;
  std::optional<double> shadow = rule.shadow_price;
  price(shadow, unit);
  rule.shadow_price = *shadow;
  price(rule.price_below, unit);
  price(rule.price_above, unit);
  limit(rule.limit, unit);
  limit(rule.holds_from, unit);
  limit(rule.holds_to, unit);
  limit(rule.declared, unit);
  const std::string money = rule.price_unit.money.substr(0, rule.price_unit.money.rfind('/'));
  rule.price_unit = {money + std::string(unit_name(basis_ == Basis::per_hectare
                                                       ? Measure::price_of_land
                                                       : Measure::price_of_goods,
                                                   Units::us)),
                     us_unit(unit)};
  rule.unit = to_string(rule.price_unit);
}

void UsUnits::operator()(WhyMaterial& why) const {
  turn(why.price_per_t, Measure::price_of_goods);
  turn(why.freight_per_t, Measure::price_of_goods);
  turn(why.cost_per_t, Measure::price_of_goods);
  turn(why.enters_below_price_per_t, Measure::price_of_goods);
  all(why.worth);
  turn(why.worth_per_t, Measure::price_of_goods);
  cost(why.forced_cost);
  cost(why.forced_rise);
  all(why.forced_portions);
}

void UsUnits::operator()(Blend& blend) const {
  turn(blend.cost_per_ha, Measure::price_of_land);
  turn(blend.cost_per_t, Measure::price_of_goods);
  turn(blend.total_kg_per_ha, Measure::rate);
  all(blend.portions);
  turn(blend.binder.kg_per_ha, Measure::rate);
  turn(blend.binder.kg_per_t, Measure::dose);
  turn(blend.binder.cost_per_t, Measure::price_of_goods);
  for (double* part : {&blend.breakdown.materials_per_t, &blend.breakdown.freight_per_t,
                       &blend.breakdown.binder_per_t, &blend.breakdown.blending_per_t})
    turn(*part, Measure::price_of_goods);
  all(blend.supply);
  all(blend.binding);
  all(blend.unused);
  all(blend.exclusions);
  all(blend.cost_parts);
  (*this)(blend.cost_per_nutrient);
  all(blend.why);
}

void UsUnits::operator()(Conflict& conflict) const {
  all(conflict.rules);
  all(conflict.nearest);
  if (conflict.nearest_blend) {
    Blend nearest = *conflict.nearest_blend;
    (*this)(nearest);
    conflict.nearest_blend = std::move(nearest);
  }
  turn(conflict.nearest_cost_per_t, Measure::price_of_goods);
  turn(conflict.nearest_cost_per_ha, Measure::price_of_land);
}

void turn_spread(const UsUnits& us, Spread& spread) {
  for (double* cost : {&spread.mean, &spread.standard_deviation, &spread.standard_error,
                       &spread.least, &spread.percent_5, &spread.percent_50, &spread.percent_95,
                       &spread.most})
    us.cost(*cost);
}

void turn_price(double& price) { UsUnits::turn(price, Measure::price_of_goods); }

/// A change of the cost by basis with a change of a price per tonne.
void turn_slope(const UsUnits& us, double& slope) {
  us.cost(slope);
  slope = to_metric(slope, Measure::price_of_goods, Units::us);
}

}  // namespace

Formulation in_own_units(Formulation answer) {
  const auto turned = [](auto part) {
    if (part.units == Units::us) UsUnits(part.basis)(part);
    return Formulation(std::move(part));
  };
  if (answer.blend() != nullptr) return turned(*answer.blend());
  if (answer.conflict() != nullptr) return turned(*answer.conflict());
  return turned(*answer.stopped());
}

Units units_of(const Formulation& answer) {
  if (const Blend* blend = answer.blend()) return blend->units;
  if (const Conflict* conflict = answer.conflict()) return conflict->units;
  return answer.stopped()->units;
}

Units units_of(const Comparison& comparison) {
  const bool us = !comparison.lines.empty() &&
                  std::ranges::all_of(comparison.lines, [](const ComparedScenario& line) {
                    return units_of(line.answer) == Units::us;
                  });
  return us ? Units::us : Units::metric;
}

namespace {

Formulation as_metric(const Formulation& answer) {
  const auto told = [](auto part) {
    part.units = Units::metric;
    return Formulation(std::move(part));
  };
  if (answer.blend() != nullptr) return told(*answer.blend());
  if (answer.conflict() != nullptr) return told(*answer.conflict());
  return told(*answer.stopped());
}

}  // namespace

Comparison in_own_units(Comparison comparison) {
  if (units_of(comparison) == Units::metric) {
    // Side by side with metric lines, those in US units are told in metric ones too.
    for (ComparedScenario& line : comparison.lines) line.answer = as_metric(line.answer);
    return comparison;
  }
  for (ComparedScenario& line : comparison.lines) {
    if (line.answer.blend() != nullptr) {
      UsUnits::turn(line.difference_per_ha, Measure::price_of_land);
      UsUnits::turn(line.difference_per_t, Measure::price_of_goods);
    }
    line.answer = in_own_units(std::move(line.answer));
  }
  return comparison;
}

LimitMap in_own_units(LimitMap map) {
  if (map.units == Units::metric) return map;
  const UsUnits us(map.basis);
  for (double* limit : {&map.from, &map.to, &map.limit_now}) us.limit(*limit, map.unit);
  us.limit(map.declared_now, map.unit);
  us.limit(map.conflict_at, map.unit);
  if (map.possible) {
    us.limit(map.possible->min, map.unit);
    us.limit(map.possible->max, map.unit);
  }
  for (LimitPoint& point : map.points) {
    us.limit(point.limit, map.unit);
    us.cost(point.cost);
    us.price(point.marginal_cost_after, map.unit);
    if (point.blend) us(*point.blend);
  }
  map.unit = UsUnits::us_unit(map.unit);
  us(map.ending);
  return map;
}

PriceMap in_own_units(PriceMap map) {
  if (map.units == Units::metric) return map;
  const UsUnits us(map.basis);
  for (double* price : {&map.from, &map.to, &map.price_now}) turn_price(*price);
  for (PriceBand& band : map.bands) {
    turn_price(band.from);
    turn_price(band.to);
    us.cost(band.cost_from);
    us.cost(band.cost_to);
    turn_slope(us, band.cost_slope);
    us(band.blend);
  }
  us(map.ending);
  return map;
}

PriceRegions in_own_units(PriceRegions map) {
  if (map.units == Units::metric) return map;
  const UsUnits us(map.basis);
  UsUnits::turn(map.first_range, Measure::price_of_goods);
  UsUnits::turn(map.second_range, Measure::price_of_goods);
  const auto turn_point = [](PricePoint& point) {
    turn_price(point.first);
    turn_price(point.second);
  };
  turn_point(map.prices_now);
  for (PriceRegion& region : map.regions) {
    for (PricePoint& corner : region.polygon) turn_point(corner);
    turn_slope(us, region.first_slope);
    turn_slope(us, region.second_slope);
    us(region.blend);
  }
  us(map.ending);
  return map;
}

Alternatives in_own_units(Alternatives list) {
  if (list.units == Units::metric) return list;
  const UsUnits us(list.basis);
  for (Alternative& line : list.list) {
    us.cost(line.cost);
    us.cost(line.difference);
    us(line.blend);
  }
  us(list.ending);
  return list;
}

NearOptimum in_own_units(NearOptimum answer) {
  if (answer.units == Units::metric) return answer;
  const UsUnits us(answer.basis);
  us.cost(answer.best_cost);
  us.cost(answer.cost_limit);
  us.cost(answer.cost);
  if (answer.wish != Wish::fewest_materials) {
    us.amount(answer.value_at_best);
    us.amount(answer.value);
  }
  if (answer.best) us(*answer.best);
  if (answer.blend) us(*answer.blend);
  us(answer.ending);
  return answer;
}

PriceRisk in_own_units(PriceRisk risk) {
  if (risk.units == Units::metric) return risk;
  const UsUnits us(risk.basis);
  us.cost(risk.cost_today);
  if (risk.today) us(*risk.today);
  for (Spread* spread : {&risk.fixed, &risk.reoptimised, &risk.flexibility})
    turn_spread(us, *spread);
  for (RiskRecipe& recipe : risk.recipes) us.all(recipe.portions);
  for (RiskMaterial& material : risk.materials) {
    turn_price(material.price_today);
    turn_price(material.mean_price);
    turn_price(material.price_deviation);
    UsUnits::turn(material.kg_per_t_today, Measure::dose);
    UsUnits::turn(material.mean_kg_per_t, Measure::dose);
    UsUnits::turn(material.kg_per_ha_today, Measure::rate);
    UsUnits::turn(material.mean_kg_per_ha, Measure::rate);
  }
  us.all(risk.mean_supply);
  for (RiskDraw& draw : risk.each) {
    us.cost(draw.fixed_cost);
    us.cost(draw.reoptimised_cost);
  }
  for (PriceSpread& spread : risk.uncertainty.prices)
    for (double* price : {&spread.min, &spread.mode, &spread.max}) turn_price(*price);
  us(risk.ending);
  return risk;
}

Quote in_own_units(Quote quote) {
  if (quote.blend.units == Units::us) UsUnits(quote.blend.basis)(quote.blend);
  return quote;
}

}  // namespace leastwise::report
