#pragma once
#include <memory>
#include <vector>

#include "solver/linear_program.hpp"

namespace leastwise::solver {

/// One linear program inside COIN-OR CLP, which nothing else here knows. Rows are normalised on the
/// way in and duals on the way out. CLP prints nothing and installs no handler.
///
/// `data` must be what CLP can read: LpSolver looks at that.
class ClpProgram {
 public:
  explicit ClpProgram(const LinearProgram& data);
  ~ClpProgram();
  ClpProgram(const ClpProgram&) = delete;
  ClpProgram& operator=(const ClpProgram&) = delete;
  ClpProgram(ClpProgram&&) = delete;
  ClpProgram& operator=(ClpProgram&&) = delete;

  void set_column_bounds(int column, double lower, double upper);
  void set_row_bounds(int row, double lower, double upper);

  /// Dual simplex from the present basis. When CLP is at a loss it is tried again without scaling,
  /// then with the primal simplex.
  [[nodiscard]] LinearStatus solve(const base::Deadline& deadline);

  /// After `optimal`: the columns' values, which may miss a bound by rounding, and the rows' duals.
  void read(std::vector<double>& x, std::vector<double>& y) const;

  /// After `infeasible`: CLP's own multipliers for a contradiction, in the caller's units; may be
  /// wrong (costs leak into them) or missing, so they prove nothing until they are verified.
  [[nodiscard]] std::vector<double> infeasibility_multipliers() const;

  [[nodiscard]] WarmStart warm_start() const;
  void set_warm_start(const WarmStart& start);

 private:
  struct Clp;
  [[nodiscard]] double scaled(double bound, int row) const;

  std::unique_ptr<Clp> clp_;
  std::vector<double> row_scale_{};
  double cost_scale_ = 1;
};

}  // namespace leastwise::solver
