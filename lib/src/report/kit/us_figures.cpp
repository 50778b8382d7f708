#include "report/kit/us_figures.hpp"

#include <optional>
#include <string>
#include <utility>

namespace leastwise::report {

void UsFigures::operator()(BindingRule& rule) const {
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
  rule.price_unit = {
      money + std::string(unit_name(
                  basis_ == Basis::per_hectare ? Measure::price_of_land : Measure::price_of_goods,
                  Units::us)),
      us_unit(unit)};
  rule.unit = to_string(rule.price_unit);
}

void UsFigures::operator()(WhyMaterial& why) const {
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

void UsFigures::operator()(Blend& blend) const {
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
  all(blend.purchases);
  all(blend.binding);
  all(blend.unused);
  all(blend.exclusions);
  all(blend.cost_parts);
  (*this)(blend.cost_per_nutrient);
  all(blend.why);
}

void UsFigures::operator()(Conflict& conflict) const {
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

}  // namespace leastwise::report
