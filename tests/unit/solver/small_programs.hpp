#pragma once
#include "solver/lp_solver.hpp"

namespace leastwise::testing {

/// Urea (46 % N, 0.50 a kg) and filler (0.05 a kg): 1000 kg with at least `need` kg of N.
inline solver::LinearProgram urea_and_filler(double need) {
  solver::LinearProgram data;
  data.rows = 2;
  data.columns = 2;
  data.row_start = {0, 2, 3};
  data.entries = {{0, 1}, {1, 1}, {0, 0.46}};
  data.row_lower = {1000, need};
  data.row_upper = {1000, model::infinity};
  data.lower = {0, 0};
  data.upper = {model::infinity, model::infinity};
  data.cost = {0.5, 0.05};
  return data;
}

}  // namespace leastwise::testing
