#include "solver/lp_solver.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>

namespace leastwise::solver {
namespace {

/// Columns times rows with a bound up to which the kernel is asked; bench/README.md has the
/// figures.
constexpr std::size_t most_entries = 60'000;
/// A program on which the kernel has given up so often is left to CLP.
constexpr int most_given_up = 5;

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(std::string("linear program: ") + what);
}

void require_bounds(double lower, double upper) {
  require(!std::isnan(lower) && !std::isnan(upper), "a bound is not a number");
  require(lower <= upper, "a lower bound is above its upper bound");
}

void require_solvable(const LinearProgram& data) {
  const auto rows = static_cast<std::size_t>(data.rows);
  const auto columns = static_cast<std::size_t>(data.columns);
  require(data.row_start.size() == rows + 1 && data.row_lower.size() == rows &&
              data.row_upper.size() == rows && data.lower.size() == columns &&
              data.upper.size() == columns && data.cost.size() == columns,
          "sizes disagree");
  for (const double c : data.cost) require(std::fabs(c) < largest_number, "a cost is not finite");
  for (const auto& entry : data.entries) {
    require(std::fabs(entry.value) < largest_number, "a coefficient is not finite");
    require(entry.column >= 0 && entry.column < data.columns, "a column is out of range");
  }
  for (std::size_t i = 0; i < rows; ++i) require_bounds(data.row_lower[i], data.row_upper[i]);
  for (std::size_t j = 0; j < columns; ++j) require_bounds(data.lower[j], data.upper[j]);
}

/// Whether the kernel is worth asking: what it holds grows with the columns times the rows that
/// have a bound.
bool suits_kernel(const LinearProgram& data) {
  std::size_t bounded = 0;
  for (std::size_t i = 0; i < data.row_lower.size(); ++i)
    if (std::isfinite(data.row_lower[i]) || std::isfinite(data.row_upper[i])) ++bounded;
  return bounded * static_cast<std::size_t>(data.columns) <= most_entries;
}

}  // namespace

LinearProgram relaxation(const model::Model& model) {
  return {model.rows,      model.columns,      model.row_start,    model.entries, model.row_lower,
          model.row_upper, model.column_lower, model.column_upper, model.cost};
}

LpSolver::LpSolver(LinearProgram data, Kernel kernel) : data_(std::move(data)), kernel_(kernel) {
  require_solvable(data_);
  if (kernel == Kernel::as_it_comes) kernel_ = suits_kernel(data_) ? Kernel::always : Kernel::never;
  start_.assign(data_.lower.size(), BasisStatus::at_lower);
  start_.resize(data_.lower.size() + data_.row_lower.size(), BasisStatus::basic);
}

void LpSolver::set_column_bounds(int column, double lower, double upper) {
  require(column >= 0 && column < data_.columns, "a column is out of range");
  require_bounds(lower, upper);
  const auto j = static_cast<std::size_t>(column);
  data_.lower[j] = lower;
  data_.upper[j] = upper;
  if (dense_) dense_->set_bounds(j, lower, upper);
  if (clp_) clp_->set_column_bounds(column, lower, upper);
}

void LpSolver::set_row_bounds(int row, double lower, double upper) {
  require(row >= 0 && row < data_.rows, "a row is out of range");
  require_bounds(lower, upper);
  const auto i = static_cast<std::size_t>(row);
  data_.row_lower[i] = lower;
  data_.row_upper[i] = upper;
  if (dense_) dense_->set_bounds(data_.lower.size() + i, lower, upper);
  if (clp_) clp_->set_row_bounds(row, lower, upper);
}

void LpSolver::set_warm_start(const WarmStart& start) {
  start_ = start;
  untouched_ = dense_is_there_ = clp_is_there_ = false;
}

void LpSolver::begin_at(const WarmStart& start) {
  set_warm_start(start);
  dense_.reset();
}

bool LpSolver::wants_kernel() const {
  return kernel_ == Kernel::always && gave_up_ < most_given_up && data_.columns > 0;
}

LinearStatus LpSolver::solve(const base::Deadline& deadline, double cutoff) {
  if (!wants_kernel()) return solve_by_clp(deadline);
  const auto outcome = solve_by_kernel(deadline, cutoff);
  switch (outcome) {
    case DenseOutcome::optimal:
    case DenseOutcome::dearer:
      dense_->read(values_, duals_);
      take_values();
      return outcome == DenseOutcome::optimal ? LinearStatus::optimal : LinearStatus::dearer;
    case DenseOutcome::infeasible:
      return LinearStatus::infeasible;
    case DenseOutcome::time_limit:
      return LinearStatus::time_limit;
    case DenseOutcome::gave_up:
      break;
  }
  return solve_afresh(deadline);
}

DenseOutcome LpSolver::solve_by_kernel(const base::Deadline& deadline, double cutoff) {
  by_kernel_ = true;
  if (!dense_) dense_ = std::make_unique<DenseSimplex>(data_);
  if (!dense_is_there_ && !untouched_) dense_->set_warm_start(start_);
  const auto outcome = dense_->solve(deadline, cutoff);
  start_ = dense_->warm_start();
  dense_is_there_ = true;
  untouched_ = clp_is_there_ = false;
  return outcome;
}

LinearStatus LpSolver::solve_by_clp(const base::Deadline& deadline) {
  if (!clp_) clp_ = std::make_unique<ClpProgram>(data_);
  if (!clp_is_there_ && !untouched_) clp_->set_warm_start(start_);
  return run_clp(deadline);
}

LinearStatus LpSolver::solve_afresh(const base::Deadline& deadline) {
  if (by_kernel_) ++gave_up_;
  clp_ = std::make_unique<ClpProgram>(data_);
  return run_clp(deadline);
}

LinearStatus LpSolver::run_clp(const base::Deadline& deadline) {
  by_kernel_ = false;
  const auto status = clp_->solve(deadline);
  start_ = clp_->warm_start();
  clp_is_there_ = true;
  untouched_ = dense_is_there_ = false;
  if (status != LinearStatus::optimal) return status;
  clp_->read(values_, duals_);
  take_values();
  return status;
}

void LpSolver::take_values() {
  for (std::size_t j = 0; j < values_.size(); ++j)
    values_[j] = std::clamp(values_[j], data_.lower[j], data_.upper[j]) + 0.0;  // no minus zero
  for (double& y : duals_) y += 0.0;
}

double LpSolver::cost() const {
  double sum = 0;
  for (std::size_t j = 0; j < values_.size(); ++j) sum += data_.cost[j] * values_[j];
  return sum;
}

std::vector<double> LpSolver::infeasibility_multipliers() const {
  return by_kernel_ ? dense_->multipliers() : clp_->infeasibility_multipliers();
}

}  // namespace leastwise::solver
