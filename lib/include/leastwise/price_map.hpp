#pragma once
#include <leastwise/export.h>
#include <leastwise/outcome.hpp>
#include <leastwise/unit_system.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// Prices of a material in [from, to] at which one recipe is the cheapest.
///
/// In the blends of maps the prices of rules, entry prices and exclusion costs are left empty.
struct PriceBand {
  double from = 0;           ///< currency per tonne of the material
  double to = 0;             ///< where the next band begins
  double cost_from = 0;      ///< least cost at `from`: per ha or per t, by basis
  double cost_to = 0;        ///< at `to`
  double cost_slope = 0;     ///< d(cost)/d(price): cost per 1 currency/t of the material's price
  double share_percent = 0;  ///< the material's share of the product, percent by mass
  Blend blend{};             ///< at the price `from`
};

/// The least cost as a function of one material's price: concave and piecewise linear, also under
/// either-or rules, since for each recipe it is a straight line and the cheapest recipe counts.
struct PriceMap {
  std::string title{};             ///< of the scenario
  std::string currency{};          ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;  ///< what one unit of the answer stands for
  Units units = Units::metric;     ///< what its pages are written in; all figures are metric
  std::string material{};          ///< whose price moves
  double from = 0;                 ///< currency per tonne of the material
  double to = 0;                   ///< the same
  double price_now = 0;            ///< what the scenario says
  std::vector<PriceBand> bands{};  ///< side by side from `from`; up to `to` when complete
  long solves = 0;                 ///< proved optima or proofs that nothing is cheaper
  std::vector<Note> notes{};       ///< of the scenario; those of a recipe are with its blend
  Outcome outcome{};               ///< complete, without a blend, or stopped
};

/// Finds every price in [from, to] at which the cheapest recipe changes.
///
/// Recursive intersection (Eisner and Severance 1976): the recipes at two prices are two lines;
/// where they cross, either nothing is cheaper, and that is a breakpoint, or a third recipe is
/// found. With k breakpoints, at most 2k + 1 solves; two when there is none. Nothing is sampled:
/// between two breakpoints concavity proves the recipe.
/// Throws: std::out_of_range for an unknown material; std::invalid_argument for an interval that
/// is empty or not finite, or reaches below 0 while the total is unbounded.
/// Thread safety: as `formulate`. Deterministic.
[[nodiscard]] LEASTWISE_API PriceMap price_map(const Scenario& scenario, std::string_view material,
                                               double from, double to,
                                               const SolveOptions& limits = {});

/// A pair of prices, currency per tonne of each material.
struct PricePoint {
  double first = 0;   ///< of the first material
  double second = 0;  ///< of the second
};

/// The pairs of prices at which one recipe is the cheapest: a convex polygon.
struct PriceRegion {
  std::vector<PricePoint> polygon{};  ///< corners, counter-clockwise, from the lowest-left one
  double area_percent = 0;            ///< of the rectangle of prices asked about
  double first_slope = 0;             ///< d(cost)/d(first price)
  double second_slope = 0;            ///< d(cost)/d(second price)
  double first_share_percent = 0;     ///< of the product, by mass
  double second_share_percent = 0;    ///< the same of the second
  Blend blend{};                      ///< costs at the polygon's first corner
};

/// The least cost as a function of the prices of two materials.
struct PriceRegions {
  std::string title{};                 ///< of the scenario
  std::string currency{};              ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;      ///< what one unit of the answer stands for
  Units units = Units::metric;         ///< what its pages are written in; all figures are metric
  std::string first{};                 ///< a material
  std::string second{};                ///< another one
  Limits first_range{};                ///< of its price, currency per tonne
  Limits second_range{};               ///< the same of the second
  PricePoint prices_now{};             ///< what the scenario says
  std::vector<PriceRegion> regions{};  ///< largest first; those proved so far
  long solves = 0;                     ///< linear programs solved
  std::vector<Note> notes{};           ///< of the scenario; those of a recipe are with its blend
  Outcome outcome{};                   ///< complete, without a blend, or stopped
};

/// Divides a rectangle of two prices into the exact regions in which each recipe is the cheapest.
///
/// Each known recipe is a plane; its region is the rectangle clipped by every other plane. Every
/// corner of every region is solved; a cheaper recipe there joins the known ones. Once all corners
/// are proved, so is all between them, because the least cost is concave.
/// Throws: as `price_map`; std::invalid_argument also when both materials are the same.
[[nodiscard]] LEASTWISE_API PriceRegions
price_regions(const Scenario& scenario, std::string_view first, const Limits& first_range,
              std::string_view second, const Limits& second_range, const SolveOptions& limits = {});

}  // namespace leastwise
