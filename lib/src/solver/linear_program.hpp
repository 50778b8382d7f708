#pragma once
#include <cstddef>
#include <memory>
#include <span>
#include <vector>

#include "base/patience.hpp"
#include "model/model.hpp"

namespace leastwise::solver {

using exact::Deadline;

/// Minimise cost.x subject to row_lower <= A x <= row_upper, lower <= x <= upper. By row, with
/// +-infinity for absent bounds; the units are the caller's.
struct LinearData {
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

/// The linear program of `model`, either-or rules left out.
[[nodiscard]] LinearData relaxation(const model::Model& model);

enum class LinearStatus {
  optimal,
  infeasible,  ///< the solver's word only: a caller must prove it
  time_limit,
  failed,  ///< no answer to be trusted
};

/// Which columns and rows are basic or at a bound; opaque, for warm starts.
using WarmStart = std::vector<unsigned char>;

/// Where a column or a row's activity stands in the optimal basis.
enum class Standing { basic, at_lower, at_upper, fixed, free };

/// One linear program inside COIN-OR CLP. Rows are normalised on the way in and duals on the way
/// out, so callers see only their own units. CLP prints nothing and installs no handler.
///
/// Thread safety: one object per thread. Throws: std::invalid_argument for numbers that CLP would
/// abort on or misread (not finite, lower above upper, an index out of range).
class LinearProgram {
 public:
  explicit LinearProgram(const LinearData& data);
  ~LinearProgram();
  LinearProgram(LinearProgram&&) noexcept;
  LinearProgram& operator=(LinearProgram&&) noexcept;
  LinearProgram(const LinearProgram&) = delete;
  LinearProgram& operator=(const LinearProgram&) = delete;

  void set_column_bounds(int column, double lower, double upper);
  void set_row_bounds(int row, double lower, double upper);

  /// Dual simplex from the present basis. On any result but `optimal` the values are not to be
  /// read. When CLP is at a loss it is tried again without scaling, then with the primal simplex.
  LinearStatus solve(const Deadline& deadline);

  [[nodiscard]] std::span<const double> values() const { return values_; }  ///< x, within bounds
  [[nodiscard]] std::span<const double> duals() const { return duals_; }  ///< d cost / d row bound
  [[nodiscard]] double cost() const { return cost_value_; }

  /// After `infeasible`: CLP's own multipliers for a contradiction, in the caller's units; may be
  /// wrong (costs leak into them) or missing, so they prove nothing until they are verified.
  [[nodiscard]] std::vector<double> infeasibility_multipliers() const;

  [[nodiscard]] WarmStart warm_start() const;
  void set_warm_start(const WarmStart& start);
  [[nodiscard]] Standing column_standing(int column) const;
  [[nodiscard]] Standing row_standing(int row) const;

 private:
  struct Clp;
  std::unique_ptr<Clp> clp_;
  std::vector<double> row_scale_{};
  std::vector<double> lower_{};
  std::vector<double> upper_{};
  double cost_scale_ = 1;
  std::vector<double> values_{};
  std::vector<double> duals_{};
  double cost_value_ = 0;
};

}  // namespace leastwise::solver
