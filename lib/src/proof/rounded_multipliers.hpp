#pragma once
#include <optional>
#include <span>
#include <vector>

#include "exact/working_set.hpp"
#include "proof/exact_program.hpp"
#include "solver/lp_solver.hpp"

namespace leastwise::proof {

using exact::Guess;
using exact::Objective;

/// Rules with their exact multipliers (at least 0 here, for each side of its own), and the bound
/// they add up to: a least cost, or by how much a contradiction misses.
struct CaseProof {
  std::vector<std::pair<std::size_t, Rational>> multipliers{};
  Rational bound{};
};

/// What the solver said about a case, told by the rows of the exact program.
class Hints {
 public:
  Hints(const ExactProgram& program, const model::Model& model,
        const solver::LinearProgram& relaxation);

  /// Multipliers by row of the exact program from the duals `y` of the model's rows.
  [[nodiscard]] std::vector<double> multipliers(const Scope& scope, std::span<const double> y,
                                                Objective objective) const;
  /// The basis these multipliers belong to, as far as they tell.
  [[nodiscard]] Guess guess(const Scope& scope, std::span<const double> y,
                            Objective objective) const;

 private:
  struct Sides {
    std::vector<std::size_t> min{};
    std::vector<std::size_t> max{};
  };
  [[nodiscard]] std::optional<std::size_t> tightest(const std::vector<std::size_t>& rows,
                                                    const Scope& scope) const;
  struct Reduced {
    std::vector<double> cost{};
    std::vector<double> size{};
  };
  [[nodiscard]] Reduced reduced(std::span<const double> y, Objective objective) const;

  const ExactProgram& program_;
  const solver::LinearProgram& data_;
  std::vector<Sides> of_row_{};
  std::vector<Sides> of_column_{};
};

/// Rounds multipliers to whole numbers over a power of two and nudges them until every reduced cost
/// has its sign exactly. Nothing when that is not possible cheaply.
[[nodiscard]] std::optional<CaseProof> rounded_proof(const ExactProgram& program,
                                                     const Scope& scope,
                                                     const std::vector<double>& multipliers,
                                                     Objective objective);

}  // namespace leastwise::proof
