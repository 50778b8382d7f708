#pragma once
#include <cstddef>

#include "solver/linear_program.hpp"

namespace leastwise::solve {

/// Calls `visit(column, value)` for each entry of `row`.
template <class Visit>
void for_each_entry(const solver::LinearProgram& data, int row, Visit visit) {
  const auto i = static_cast<std::size_t>(row);
  for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e)
    visit(data.entries[static_cast<std::size_t>(e)].column,
          data.entries[static_cast<std::size_t>(e)].value);
}

}  // namespace leastwise::solve
