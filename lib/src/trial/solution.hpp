#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <optional>
#include <vector>

#include "trial/achieved.hpp"
#include "trial/treatment_draft.hpp"

namespace leastwise::trial {

/// Takes the powders of which a load holds too little for the balances out of the product and
/// dissolves them instead, as far as they dissolve; true where there was one. Only where a blend is
/// solved per hectare: a product by the tonne is what it holds.
[[nodiscard]] bool dissolve_little(const Trial& trial, const std::vector<Plot>& plots,
                                   TreatmentDraftPlan& draft, TreatmentPlan& plan);

/// Says of each such powder why it is not sprayed on instead.
void add_solution_remedies(const Trial& trial, const TreatmentDraftPlan& draft,
                           TreatmentPlan& plan);

/// Plans the solutions of all products that can be made. Products that take the same powder at the
/// same rate share one.
///
/// It is half as strong at most as one that takes up no more at 20 C. The powder is weighed into
/// water, at least 75 digits of the balance; where that would make far too much of the thin
/// solution, a stronger one is made first and weighed into more water.
void plan_solutions(const Trial& trial, const std::vector<TreatmentDraftPlan>& drafts,
                    TrialPlan& plan);

/// Adds what is sprayed on: as the solutions were weighed, or as asked while there are none.
void add_sprays(const Scenario& scenario, const TreatmentPlan& plan,
                const std::vector<StockMix>& mixes, Contents& contents);

/// What the solutions of a treatment hold, beside what is in a load.
inline constexpr std::string_view water = "water";

}  // namespace leastwise::trial
