#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/outcome.hpp>
#include <leastwise/unit_system.hpp>

namespace leastwise::report {

/// Turns the figures of one answer into US units, in place.
class UsFigures {
 public:
  explicit UsFigures(Basis basis) : basis_(basis) {}

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
  void operator()(BlendPurchase& purchase) const {
    for (double* tonnes : {&purchase.tonnes, &purchase.short_of_next_t})
      turn(*tonnes, Measure::goods);
    turn(purchase.minimum_lot_t, Measure::goods);
    turn(purchase.price_paid_per_t, Measure::price_of_goods);
    for (auto* tier : {&purchase.tier, &purchase.next}) {
      if (!*tier) continue;
      turn((*tier)->from_t, Measure::goods);
      turn((*tier)->price_per_t, Measure::price_of_goods);
    }
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
  void operator()(Outcome& outcome) const {
    if (outcome.conflict) (*this)(*outcome.conflict);
  }
  template <class Items>
  void all(Items& items) const {
    for (auto& item : items) (*this)(item);
  }

 private:
  Basis basis_;
};

}  // namespace leastwise::report
