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

/// kg of `material` in all that is made.
[[nodiscard]] double kg_of_material(const SeasonBlend& blend, const MadeBlend& made,
                                    const std::string& material);

/// kg of each shared limit that `made`, along `season.blends()`, takes.
[[nodiscard]] std::vector<double> shared_use(const Season& season,
                                             const std::vector<MadeBlend>& made);

/// The blends of a proved optimum of `model`, held against their scenarios and the shared limits by
/// the season's own numbers.
/// Returns: along the blocks; nothing where one does not hold.
[[nodiscard]] std::optional<std::vector<MadeBlend>> confirmed_blends(
    const Season& season, const SeasonModel& model, const std::vector<Limits>& limits,
    const std::vector<double>& x);

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
