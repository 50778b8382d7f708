#pragma once
#include <vector>

#include "exact/tableau.hpp"
#include "exact/whole_program.hpp"

namespace leastwise::exact {

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
  Guess basis{};                       ///< rows that are tight and columns that are basic
};

enum class Objective { cost, nothing };

/// Solves the rows and columns that matter exactly, adds those the solution offends, and so on
/// until none is. Throws: Interrupted.
[[nodiscard]] ExactSolution solve_exactly(const WholeProgram& program, const Scope& scope,
                                          Objective objective, Guess guess,
                                          const base::StopCheck& stop_check);

}  // namespace leastwise::exact
