#pragma once
#include <vector>

#include "base/stop_check.hpp"
#include "model/model.hpp"

namespace leastwise::solver {

using base::Deadline;

/// Minimise cost.x subject to row_lower <= A x <= row_upper, lower <= x <= upper. By row, with
/// +-infinity for absent bounds; the units are the caller's.
struct LinearProgram {
  int rows = 0;
  int columns = 0;
  std::vector<int> row_start{0};
  std::vector<model::Entry> entries{};
  std::vector<double> row_lower{};
  std::vector<double> row_upper{};
  std::vector<double> lower{};
  std::vector<double> upper{};
  std::vector<double> cost{};
};

/// Bounds from here on count as infinite; costs and coefficients must be smaller.
inline constexpr double largest_number = 1e20;

/// The linear program of `model`, either-or rules left out.
[[nodiscard]] LinearProgram relaxation(const model::Model& model);

enum class LinearStatus {
  optimal,
  dearer,      ///< nothing is cheaper than the cutoff; the duals prove it, once they are added up
  infeasible,  ///< the solver's word only: a caller must prove it
  time_limit,
  failed,  ///< no answer to be trusted
};

/// Where a column or a row's activity stands in a basis.
enum class BasisStatus : unsigned char { basic, at_lower, at_upper, fixed, free };

/// The standing of every column, then of every row: a basis to start from.
using WarmStart = std::vector<BasisStatus>;

}  // namespace leastwise::solver
