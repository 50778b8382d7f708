#pragma once
#include "solver/linear_program.hpp"
#include "support/random.hpp"

namespace leastwise::testing {

/// What makes a random linear program hard.
enum class Hardship {
  none,
  degenerate,  ///< a few whole costs, coefficients and limits: many ties
  ranges,      ///< a total within limits, coefficients of both signs, limits of zero
  scaled,      ///< rows from a millionth to ten thousand
  larger,      ///< up to 60 columns and 40 rows
  gate_fees,   ///< some costs are negative
  parallel,    ///< rows that differ from one another by a thousandth to a ten-millionth
};

[[nodiscard]] const char* to_string(Hardship hardship);

/// A program of the shape of a blend; about half of them are feasible.
[[nodiscard]] solver::LinearProgram random_program(support::Random& random, Hardship hardship);

}  // namespace leastwise::testing
