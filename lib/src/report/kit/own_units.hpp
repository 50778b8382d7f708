#pragma once
#include <leastwise/alternatives.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/quote.hpp>
#include <leastwise/risk.hpp>

namespace leastwise::report {

// Answers as their pages write them: with the figures of the answer's own units. The names of
// fields then say too much: under US units `kg_per_ha` holds pounds per acre. Nothing but a page or
// a table reads such an answer; JSON is written from the metric one.

[[nodiscard]] Formulation in_own_units(Formulation answer);
[[nodiscard]] Comparison in_own_units(Comparison comparison);
[[nodiscard]] LimitMap in_own_units(LimitMap map);
[[nodiscard]] PriceMap in_own_units(PriceMap map);
[[nodiscard]] PriceRegions in_own_units(PriceRegions map);
[[nodiscard]] Alternatives in_own_units(Alternatives list);
[[nodiscard]] NearOptimum in_own_units(NearOptimum answer);
[[nodiscard]] PriceRisk in_own_units(PriceRisk risk);
[[nodiscard]] Quote in_own_units(Quote quote);

/// What the pages of an answer are written in.
[[nodiscard]] Units units_of(const Formulation& answer);
/// The same; metric where the lines differ.
[[nodiscard]] Units units_of(const Comparison& comparison);

/// kg of product in a tonne of it, or lb in a short ton.
[[nodiscard]] constexpr double whole_product(Units units) {
  return units == Units::us ? 2000 : 1000;
}

}  // namespace leastwise::report
