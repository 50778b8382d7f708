#include "report/kit/own_units.hpp"

#include <algorithm>
#include <utility>

#include "report/kit/us_figures.hpp"

namespace leastwise::report {
namespace {

void turn_spread(const UsFigures& us, Spread& spread) {
  for (double* cost :
       {&spread.mean, &spread.standard_deviation, &spread.standard_error, &spread.least,
        &spread.percent_5, &spread.percent_50, &spread.percent_95, &spread.most})
    us.cost(*cost);
}

void turn_price(double& price) { UsFigures::turn(price, Measure::price_of_goods); }

/// A change of the cost by basis with a change of a price per tonne.
void turn_slope(const UsFigures& us, double& slope) {
  us.cost(slope);
  slope = to_metric(slope, Measure::price_of_goods, Units::us);
}

/// `answer` after `change` to the blend, the conflict or the stop that it is.
template <class Change>
Formulation changed(const Formulation& answer, Change change) {
  const auto done = [&](auto part) {
    change(part);
    return Formulation(std::move(part));
  };
  if (answer.blend() != nullptr) return done(*answer.blend());
  if (answer.conflict() != nullptr) return done(*answer.conflict());
  return done(*answer.stopped());
}

Formulation as_metric(const Formulation& answer) {
  return changed(answer, [](auto& part) { part.units = Units::metric; });
}

}  // namespace

Formulation in_own_units(Formulation answer) {
  return changed(answer, [](auto& part) {
    if (part.units == Units::us) UsFigures(part.basis)(part);
  });
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

Comparison in_own_units(Comparison comparison) {
  if (units_of(comparison) == Units::metric) {
    // Side by side with metric lines, those in US units are told in metric ones too.
    for (ComparedScenario& line : comparison.lines) line.answer = as_metric(line.answer);
    return comparison;
  }
  for (ComparedScenario& line : comparison.lines) {
    if (line.answer.blend() != nullptr) {
      UsFigures::turn(line.difference_per_ha, Measure::price_of_land);
      UsFigures::turn(line.difference_per_t, Measure::price_of_goods);
    }
    line.answer = in_own_units(std::move(line.answer));
  }
  return comparison;
}

LimitMap in_own_units(LimitMap map) {
  if (map.units == Units::metric) return map;
  const UsFigures us(map.basis);
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
  map.unit = UsFigures::us_unit(map.unit);
  us(map.outcome);
  return map;
}

PriceMap in_own_units(PriceMap map) {
  if (map.units == Units::metric) return map;
  const UsFigures us(map.basis);
  for (double* price : {&map.from, &map.to, &map.price_now}) turn_price(*price);
  for (PriceBand& band : map.bands) {
    turn_price(band.from);
    turn_price(band.to);
    us.cost(band.cost_from);
    us.cost(band.cost_to);
    turn_slope(us, band.cost_slope);
    us(band.blend);
  }
  us(map.outcome);
  return map;
}

PriceRegions in_own_units(PriceRegions map) {
  if (map.units == Units::metric) return map;
  const UsFigures us(map.basis);
  UsFigures::turn(map.first_range, Measure::price_of_goods);
  UsFigures::turn(map.second_range, Measure::price_of_goods);
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
  us(map.outcome);
  return map;
}

Alternatives in_own_units(Alternatives list) {
  if (list.units == Units::metric) return list;
  const UsFigures us(list.basis);
  for (Alternative& line : list.list) {
    us.cost(line.cost);
    us.cost(line.difference);
    us(line.blend);
  }
  us(list.outcome);
  return list;
}

NearOptimum in_own_units(NearOptimum answer) {
  if (answer.units == Units::metric) return answer;
  const UsFigures us(answer.basis);
  us.cost(answer.best_cost);
  us.cost(answer.cost_limit);
  us.cost(answer.cost);
  if (answer.wish != SecondaryObjective::fewest_materials) {
    us.amount(answer.value_at_best);
    us.amount(answer.value);
  }
  if (answer.best) us(*answer.best);
  if (answer.blend) us(*answer.blend);
  us(answer.outcome);
  return answer;
}

PriceRisk in_own_units(PriceRisk risk) {
  if (risk.units == Units::metric) return risk;
  const UsFigures us(risk.basis);
  us.cost(risk.cost_today);
  if (risk.today) us(*risk.today);
  for (Spread* spread : {&risk.fixed, &risk.reoptimised, &risk.flexibility})
    turn_spread(us, *spread);
  for (RiskRecipe& recipe : risk.recipes) us.all(recipe.portions);
  for (RiskMaterial& material : risk.materials) {
    turn_price(material.price_today);
    turn_price(material.mean_price);
    turn_price(material.price_deviation);
    UsFigures::turn(material.kg_per_t_today, Measure::dose);
    UsFigures::turn(material.mean_kg_per_t, Measure::dose);
    UsFigures::turn(material.kg_per_ha_today, Measure::rate);
    UsFigures::turn(material.mean_kg_per_ha, Measure::rate);
  }
  us.all(risk.mean_supply);
  for (RiskDraw& draw : risk.each) {
    us.cost(draw.fixed_cost);
    us.cost(draw.reoptimised_cost);
  }
  for (PriceSpread& spread : risk.uncertainty.prices)
    for (double* price : {&spread.min, &spread.mode, &spread.max}) turn_price(*price);
  us(risk.outcome);
  return risk;
}

Quote in_own_units(Quote quote) {
  if (quote.blend.units == Units::us) UsFigures(quote.blend.basis)(quote.blend);
  return quote;
}

}  // namespace leastwise::report
