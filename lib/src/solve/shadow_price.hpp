#pragma once
#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// d(cost)/d(limit) of rule `r` at `solution`, in currency per unit of the user's limit.
///
/// The dual of the rule's row times how the row moves with the limit: rhs_derivative - drift.x. For
/// a rule on a column's bound, the reduced cost times the bound's rate. Zero for a slack rule.
[[nodiscard]] double shadow_price(const model::Model& model, std::size_t r,
                                  const solver::SearchResult& solution);

/// True when `solution` lies on the limit of rule `r` and the solver's basis holds it there.
[[nodiscard]] bool is_binding(const model::Model& model, std::size_t r,
                              const solver::SearchResult& solution);

}  // namespace leastwise::solve
