#pragma once
#include <cstddef>
#include <vector>

namespace leastwise::solver {

/// Pseudo-costs of branching: by how much the bound has risen, on average, for each unit that a
/// column was moved down or up. Says which column to branch on next.
class PseudoCosts {
 public:
  explicit PseudoCosts(std::size_t columns) : sides_(2 * columns) {}

  /// `moved`: units from where the column was to where it may be now; `rise`: of the bound.
  void update(std::size_t column, bool up, double moved, double rise);
  /// The score of a column that is `part` (0 to 1) above a whole number of units: the product of
  /// the rises to be expected on its two sides. A side never tried counts like the average.
  [[nodiscard]] double score(std::size_t column, double part) const;

 private:
  struct Side {
    double sum = 0;
    long count = 0;
  };
  [[nodiscard]] double gain(const Side& side) const;

  std::vector<Side> sides_;  ///< down and up of each column
  Side all_{};
};

}  // namespace leastwise::solver
