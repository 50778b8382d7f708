#pragma once
#include <vector>

#include "proof/exact_program.hpp"
#include "proof/tableau.hpp"

namespace leastwise::proof {

/// Where to start: rows thought tight and columns thought positive. A bad guess costs time only.
struct Guess {
  std::vector<char> rows{};
  std::vector<char> columns{};
};

struct ExactSolution {
  Tableau::Status status = Tableau::Status::optimal;
  Integer denominator = 1;
  std::vector<Integer> values{};       ///< u by column, over the denominator
  std::vector<Integer> multipliers{};  ///< by row, over the denominator; or of a contradiction
};

enum class Objective { cost, nothing };

/// Solves the rows and columns that matter exactly, adds those the solution offends, and so on
/// until none is. Throws: Interrupted.
[[nodiscard]] ExactSolution solve_exactly(const ExactProgram& program, const Scope& scope,
                                          Objective objective, Guess guess,
                                          const Patience& patience);

}  // namespace leastwise::proof
