#pragma once
#include <leastwise/season_plan.hpp>

#include <chrono>
#include <vector>

#include "season/season_model.hpp"
#include "solve/time_left.hpp"
#include "solver/search.hpp"

namespace leastwise::season {

/// A blend with how much is made of it; no blend where none is.
struct MadeBlend {
  double amount = 0;  ///< tonnes or hectares
  std::optional<Blend> blend{};
};

/// What is made, and where the goods come from.
struct MadeSeason {
  std::vector<MadeBlend> blends{};             ///< along the blends of the model
  std::vector<std::vector<double>> from_kg{};  ///< along `season.goods()` and their sources
};

/// kg of `material` in all that is made.
[[nodiscard]] double kg_of_material(const SeasonBlend& blend, const MadeBlend& made,
                                    const std::string& material);

/// kg of each shared limit that `made`, along `season.blends()`, takes; of a yard what comes from
/// there.
[[nodiscard]] std::vector<double> shared_use(const Season& season,
                                             const std::vector<MadeBlend>& made,
                                             const std::vector<std::vector<double>>& from_kg = {});

/// The blends of a proved optimum of `model`, held against their scenarios and the shared limits by
/// the season's own numbers.
/// Prices are those of what is bought. Returns: nothing where something does not hold.
[[nodiscard]] std::optional<MadeSeason> confirmed_blends(const Season& season,
                                                         const SeasonModel& model,
                                                         const std::vector<Limits>& limits,
                                                         const std::vector<double>& x);

/// The granular materials in use in a run, in order of first use.
[[nodiscard]] std::vector<std::string> granules_of(const SeasonRun& run,
                                                   const std::vector<MadeBlend>& made);

/// What all of `made` takes of `goods`, in tonnes.
[[nodiscard]] double tonnes_of_goods(const Season& season, const std::vector<MadeBlend>& made,
                                     const SeasonGoods& goods);

/// Adds what is bought by quantity, what comes from which yard, and the bins of the runs.
void add_goods(const Season& season, const std::vector<MadeBlend>& made,
               const std::vector<std::vector<double>>& from_kg, SeasonPlan& plan);

/// Adds what one bin more would save each run whose bins are all in use.
void add_bins_worth(const SeasonModel& model, double cost, const solver::SearchOptions& search,
                    SeasonPlan& plan);

/// Adds the price of each shared limit in the optimum `found`, how far it holds, and the marginal
/// cost of each blend.
void add_worth(const SeasonModel& model, const solver::SearchResult& found,
               const solver::SearchOptions& search, SeasonPlan& plan);

/// What is known of a limit that is not reached: made tighter, down to what is used, it costs
/// nothing. Made looser it brings nothing, unless another choice of the either-or rules may then be
/// cheaper.
void add_slack(SharedLimitPlan& limit, bool no_other_choice);

/// Names the rules of an infeasible season that contradict one another.
void explain_conflict(const Season& season, const SeasonModel& model,
                      const solver::SearchOptions& search, SeasonPlan& plan);

/// Plans the blends in the order of the file, each with what is left.
[[nodiscard]] Known<OneByOne> plan_one_by_one(const Season& season, const solve::TimeLeft& time);

/// Currency that is paid or earned whatever the plan: selling prices of given amounts, and storage
/// of all that arrives.
[[nodiscard]] double fixed_money(const Season& season);

}  // namespace leastwise::season
