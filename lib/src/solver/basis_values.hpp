#pragma once
#include <vector>

#include "solver/linear_program.hpp"

namespace leastwise::solver {

/// A vertex and what proves it the only one.
struct BasisValues {
  std::vector<double> x{};
  std::vector<double> y{};
  WarmStart start{};  ///< the basis, each nonbasic at the bound that its reduced cost wants
};

/// The values of the basis `start` of `data`, from nothing but the two: the same digits whichever
/// simplex code came to that basis, and by whichever way.
///
/// Returns: false where the basis is singular, or where another basis may be optimal too: a basic
/// variable at its bound, or a reduced cost of zero, to within rounding.
[[nodiscard]] bool find_basis_values(const LinearProgram& data, const WarmStart& start,
                                     BasisValues& values);

}  // namespace leastwise::solver
