#pragma once
#include <cstddef>
#include <optional>

#include "model/model.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// How far a limit may move, as a change from where it is, while one basis stays optimal.
struct BasisStep {
  double down = 0;  ///< <= 0
  double up = 0;    ///< >= 0
  /// The price at a change t is price / (1 + curve t)^2; curve is 0 unless coefficients drift.
  double curve = 0;
};

/// The exact range of changes to the limit of rule `r` that keep the basis of `solution` optimal.
///
/// Rules whose coefficients move with the limit (grade, share, ratio, coating) change the basis
/// matrix by rank one; x and the reduced costs are then linear in u = t / (1 + curve t), and the
/// ratio test is done in u.
/// Returns: nothing when the basis is singular to working precision.
[[nodiscard]] std::optional<BasisStep> basis_step(const model::Model& model, std::size_t r,
                                                  const solver::SearchResult& solution);

}  // namespace leastwise::solve
