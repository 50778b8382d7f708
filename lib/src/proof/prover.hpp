#pragma once
#include <leastwise/proof.hpp>

#include "exact/tableau.hpp"
#include "model/model.hpp"
#include "proof/exact_rows.hpp"
#include "solver/search.hpp"

namespace leastwise::proof {

/// What the exact search found.
struct ProverResult {
  Proof proof{};
  Rational cost{};       ///< of the blend, when the claim is `optimal`
  Rational turnover{};   ///< sum of the magnitudes of its terms
  long exact_cases = 0;  ///< cases that floating-point multipliers could not settle
};

/// Proves the least cost of `scenario`, or that no blend exists, starting from what the search of
/// the solver found; where that is off by rounding the exact numbers decide and search on.
///
/// Throws: base::Interrupted when `stop_check` does; std::runtime_error when the cost has no bound.
[[nodiscard]] ProverResult prove(const Scenario& scenario, const model::Model& model,
                                 const solver::SearchResult& found,
                                 const base::StopCheck& stop_check);

}  // namespace leastwise::proof
