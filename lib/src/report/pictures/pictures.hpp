#pragma once
#include <leastwise/alternatives.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/risk.hpp>
#include <leastwise/rounding.hpp>

#include <string>

#include "report/drawing/picture.hpp"
#include "report/kit/table.hpp"

namespace leastwise::report {

// What each answer looks like. Each says the same as a table of its page; those tables that a page
// of text does without stand here as well.

/// What each portion adds to the cost.
[[nodiscard]] Picture cost_picture(const Blend& blend);
/// What is supplied against what is asked; nothing asked leaves it empty, with a height of 0.
[[nodiscard]] Picture supply_picture(const Blend& blend);

/// The least cost over one price, and below it the material's share in each recipe.
[[nodiscard]] Picture price_map_picture(const PriceMap& map);
/// Which recipe is the cheapest in which part of the plane of two prices.
[[nodiscard]] Picture price_regions_picture(const PriceRegions& map);
[[nodiscard]] Table price_regions_table(const PriceRegions& map);

/// The least cost over the limit of a rule.
[[nodiscard]] Picture limit_map_picture(const LimitMap& map);
/// Says of a map without any blend where one was looked for; the conflict follows.
[[nodiscard]] std::string no_blend_words(const LimitMap& map);

/// How the cost is distributed over the draws: today's recipe, and the cheapest each time.
[[nodiscard]] Picture risk_picture(const PriceRisk& risk);
[[nodiscard]] Table risk_table(const PriceRisk& risk);

[[nodiscard]] Picture alternatives_picture(const Alternatives& list);
[[nodiscard]] Picture near_optimum_picture(const NearOptimum& answer);
[[nodiscard]] Picture comparison_picture(const Comparison& comparison);
[[nodiscard]] Picture rounding_picture(const RoundedBlend& blend);

/// Words for a scenario without a blend, or without a proved one.
[[nodiscard]] Picture conflict_picture(const Conflict& conflict);
[[nodiscard]] Picture stopped_picture(const Stopped& stopped);

/// Words for an answer without anything to draw: why there is nothing.
[[nodiscard]] Picture ending_picture(std::string title, const Outcome& outcome);

}  // namespace leastwise::report
