#pragma once
#include <cstddef>
#include <vector>

namespace leastwise::insight {

/// What dividing on a column has been worth so far: by how much the bound rose for each unit that
/// the column was moved down or up. Tells which column to divide on next.
class BranchGains {
 public:
  explicit BranchGains(std::size_t columns) : sides_(2 * columns) {}

  /// `moved`: units from where the column was to where it may be now; `rise`: of the bound.
  void learn(std::size_t column, bool up, double moved, double rise);
  /// The promise of a column that is `part` (0 to 1) above a whole number of units: the product of
  /// the rises to be expected on its two sides. A side never tried counts like the average.
  [[nodiscard]] double promise(std::size_t column, double part) const;

 private:
  struct Side {
    double sum = 0;
    long count = 0;
  };
  [[nodiscard]] double gain(const Side& side) const;

  std::vector<Side> sides_;  ///< down and up of each column
  Side all_{};
};

}  // namespace leastwise::insight
