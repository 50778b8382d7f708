#pragma once
#include <cstddef>
#include <vector>

#include "analysis/rounding/rounding_grid.hpp"
#include "solver/branching.hpp"
#include "solver/lp_solver.hpp"

namespace leastwise::analysis {

/// What the rows of a grid, each on its own, leave of the whole numbers of steps.
///
/// A linear program sees nothing of this: a row that must be met exactly can always be met by one
/// amount that is not whole. Here every row narrows the range of each of its columns, and where a
/// row is so narrow that few whole numbers meet it, these are tried one by one.
class GridRows {
 public:
  explicit GridRows(const GridModel& grid);

  /// Narrows `bounds`, which lose no blend on the grid. Returns: false when none is left.
  [[nodiscard]] bool narrow(solver::NodeBounds& bounds) const;

 private:
  struct Term {
    std::size_t column = 0;
    double per_step = 0;  ///< of the row, for each step of the column
  };
  struct Row {
    std::vector<Term> terms{};
    double lower = 0;
    double upper = 0;
    bool whole = false;   ///< all its columns count in steps
    bool narrow = false;  ///< it tells one step from the next
  };
  /// Columns counted in steps; those that do not lie on the grid too, but not in whole ones.
  struct Range {
    double least = 0;
    double most = 0;
    bool whole = false;

    [[nodiscard]] double count() const { return most - least + 1; }
  };
  class Trial;

  [[nodiscard]] static bool cut(Range& range, double low, double high, bool& changed);
  [[nodiscard]] static bool tighten(const Row& row, std::vector<Range>& ranges, bool& changed);
  [[nodiscard]] static bool try_all(const Row& row, std::vector<Range>& ranges, bool& changed);
  [[nodiscard]] bool ranges_within(const solver::NodeBounds& bounds,
                                   std::vector<Range>& ranges) const;
  [[nodiscard]] bool tighten_all(std::vector<Range>& ranges) const;

  double unit_;
  std::vector<char> on_grid_;  ///< by column
  std::vector<Row> rows_{};
};

}  // namespace leastwise::analysis
