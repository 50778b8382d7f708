#pragma once
#include <memory>
#include <span>
#include <vector>

#include "solver/clp_program.hpp"
#include "solver/dense_simplex.hpp"
#include "solver/kernel.hpp"
#include "solver/linear_program.hpp"

namespace leastwise::solver {

/// One linear program, solved again and again under other bounds: by the dense kernel where it is
/// small, by CLP where it is not, where the kernel gives up, and where a caller asks for it.
/// Callers see their own units only, and no difference but in what rounding leaves.
///
/// Thread safety: one object per thread. Throws: std::invalid_argument for numbers that neither
/// could make sense of (not finite, lower above upper, an index out of range).
class LpSolver {
 public:
  explicit LpSolver(LinearProgram data, Kernel kernel = usual_kernel());

  void set_column_bounds(int column, double lower, double upper);
  void set_row_bounds(int row, double lower, double upper);

  /// Dual simplex from the present basis. On any result but `optimal` the values are not to be
  /// read. The kernel ends with `dearer` once nothing can cost less than `cutoff`.
  LinearStatus solve(const base::Deadline& deadline, double cutoff = model::infinity);
  /// The same by CLP from the present basis.
  LinearStatus solve_by_clp(const base::Deadline& deadline);
  /// The same by a new CLP from the basis of all rows: the referee of what the others said.
  LinearStatus solve_afresh(const base::Deadline& deadline);

  /// The program with its present bounds.
  [[nodiscard]] const LinearProgram& data() const { return data_; }
  [[nodiscard]] std::span<const double> values() const { return values_; }  ///< x, within bounds
  [[nodiscard]] std::span<const double> duals() const { return duals_; }  ///< d cost / d row bound
  [[nodiscard]] double cost() const;

  /// After `infeasible`: multipliers for a contradiction, in the caller's units. Those of CLP may
  /// be wrong (costs leak into them) or missing, so they prove nothing until they are verified.
  [[nodiscard]] std::vector<double> infeasibility_multipliers() const;

  /// The present basis.
  [[nodiscard]] const WarmStart& warm_start() const { return start_; }
  void set_warm_start(const WarmStart& start);
  /// The same, and nothing of what the kernel holds is used again.
  void begin_at(const WarmStart& start);
  [[nodiscard]] BasisStatus column_standing(int column) const {
    return start_[static_cast<std::size_t>(column)];
  }
  [[nodiscard]] BasisStatus row_standing(int row) const {
    return start_[static_cast<std::size_t>(data_.columns + row)];
  }

  /// Whether the kernel is asked at all.
  [[nodiscard]] bool is_small() const { return kernel_ == Kernel::always; }
  /// Whether the last solve was the dense kernel's.
  [[nodiscard]] bool solved_by_kernel() const { return by_kernel_; }

 private:
  [[nodiscard]] bool wants_kernel() const;
  DenseOutcome solve_by_kernel(const base::Deadline& deadline, double cutoff);
  LinearStatus run_clp(const base::Deadline& deadline);
  void take_values();

  LinearProgram data_;
  Kernel kernel_;
  std::unique_ptr<DenseSimplex> dense_{};
  std::unique_ptr<ClpProgram> clp_{};
  WarmStart start_{};
  bool untouched_ = true;        ///< `start_` is the basis of all rows, where both begin
  bool dense_is_there_ = false;  ///< the kernel stands at `start_`
  bool clp_is_there_ = false;    ///< CLP does
  bool by_kernel_ = false;
  int gave_up_ = 0;  ///< how often the kernel did
  std::vector<double> values_{};
  std::vector<double> duals_{};
};

}  // namespace leastwise::solver
