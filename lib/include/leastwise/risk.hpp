#pragma once
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>
#include <leastwise/outcome.hpp>
#include <leastwise/price_spread.hpp>
#include <leastwise/unit_system.hpp>

#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// What a quantity came to over all draws. Costs are per hectare or per tonne, by basis. Not a
/// number without a draw; a single one knows neither deviation nor error.
struct Spread {
  double mean = std::numeric_limits<double>::quiet_NaN();                ///< over all draws
  double standard_deviation = std::numeric_limits<double>::quiet_NaN();  ///< of the draws (n - 1)
  /// Of the mean: how far the number of draws lets it be off.
  double standard_error = std::numeric_limits<double>::quiet_NaN();
  double least = std::numeric_limits<double>::quiet_NaN();  ///< of all draws
  double percent_5 =
      std::numeric_limits<double>::quiet_NaN();  ///< the least drawn value that at least 5 % of the
                                                 ///< draws do not exceed
  double percent_50 = std::numeric_limits<double>::quiet_NaN();  ///< the same for 50 %
  double percent_95 = std::numeric_limits<double>::quiet_NaN();  ///< the same for 95 %
  double most = std::numeric_limits<double>::quiet_NaN();        ///< of all draws
};

/// A recipe that was the cheapest in some draws: materials and amounts. Where two recipes cost the
/// same whatever is drawn, it stands for both.
struct RiskRecipe {
  long draws = 0;                   ///< in which it was the cheapest
  double frequency_percent = 0;     ///< the same, of all draws
  bool today = false;               ///< the recipe that is the cheapest at today's prices
  std::vector<Portion> portions{};  ///< largest first, at today's prices
  std::vector<Note> cautions{};     ///< what is to be minded with it
};

/// How often a material was part of the cheapest recipe.
struct RiskMaterial {
  std::string material{};                   ///< its name
  double price_today = 0;                   ///< currency per tonne
  double mean_price = 0;                    ///< of the draws
  double price_deviation = 0;               ///< standard deviation of the draws
  double frequency_percent = 0;             ///< of the draws
  double kg_per_t_today = 0;                ///< in today's recipe
  double mean_kg_per_t = 0;                 ///< over all draws, those without it included
  std::optional<double> kg_per_ha_today{};  ///< empty in the per-tonne basis
  std::optional<double> mean_kg_per_ha{};   ///< the same over all draws
};

/// One draw: what today's recipe would cost, and what the cheapest one would.
struct RiskDraw {
  double fixed_cost = 0;        ///< of today's recipe
  double reoptimised_cost = 0;  ///< of the cheapest recipe
  std::size_t recipe = 0;       ///< into `PriceRisk::recipes`
};

/// What uncertain prices do to the cost of a product.
struct PriceRisk {
  std::string title{};                    ///< of the scenario
  std::string currency{};                 ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;         ///< what one unit of the answer stands for
  Units units = Units::metric;            ///< what its pages are written in; all figures are metric
  PriceUncertainty uncertainty{};         ///< as asked, with `draws` and `seed` filled in
  long draws = 0;                         ///< finished; all of them unless it was stopped
  std::optional<double> cost_today{};     ///< the least cost at today's prices; empty: no blend
  std::optional<Blend> today{};           ///< the blend that has it; prices of rules are left empty
  Spread fixed{};                         ///< today's recipe at the drawn prices
  Spread reoptimised{};                   ///< the cheapest recipe of each draw
  Spread flexibility{};                   ///< fixed less reoptimised, draw by draw: never below 0
  std::vector<RiskRecipe> recipes{};      ///< most frequent first
  std::vector<RiskMaterial> materials{};  ///< every material that is uncertain or was ever used
  std::vector<Supply> mean_supply{};      ///< of the cheapest recipes, over all draws
  std::vector<RiskDraw> each{};           ///< in the order of the draws
  long prices_at_zero = 0;  ///< normal prices that would have fallen below 0 and count as 0
  long searches = 0;  ///< draws that took a full search; the others were proved by known bases
  std::vector<Note> notes{};  ///< of the scenario and of the draws; those of a recipe are with it
  Outcome outcome{};          ///< complete, without a blend, or stopped
};

/// How the draws are made; none of it changes their results.
struct RiskOptions {
  SolveOptions limits{};  ///< when to stop drawing
  unsigned threads = 0;   ///< 0: as many as the machine has; changes nothing but the time
  /// Told now and then how many draws are finished of how many; from any thread, one at a time.
  std::function<void(long, long)> progress{};
};

/// Draws prices as the scenario's `risk` says and finds the cheapest blend of every draw.
///
/// Every draw is proved: for a linear program by the reduced costs of a known basis at the drawn
/// prices, under either-or rules by a lower bound on every branch. Each basis is checked against
/// the scenario's own rows before it may prove anything.
/// Throws: std::invalid_argument when the scenario states no price uncertainty.
/// Thread safety: as `formulate`. Deterministic: the same seed gives bit-identical results for any
/// number of threads.
[[nodiscard]] LEASTWISE_API PriceRisk price_risk(const Scenario& scenario,
                                                 const RiskOptions& options = {});

}  // namespace leastwise
