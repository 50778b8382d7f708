#pragma once
#include <cstddef>
#include <utility>
#include <vector>

#include "exact/rational.hpp"

namespace leastwise::exact {

/// `sum entries u >= limit` in whole numbers.
struct WholeRow {
  std::vector<std::pair<std::size_t, Integer>> entries{};
  Integer limit{};
};

/// minimise cost.u over the rows and u >= 0, all in whole numbers.
struct WholeProgram {
  std::vector<WholeRow> rows{};
  std::vector<Integer> cost{};
  std::vector<Integer> column_scale{};  ///< what one unit of each u stands for; above 0
};

/// A part of a program: which columns are out and which rows hold.
struct Scope {
  std::vector<char> out{};    ///< by column
  std::vector<char> holds{};  ///< by row
};

}  // namespace leastwise::exact
