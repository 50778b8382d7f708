#include "solver/linear_program.hpp"

#include <ClpSimplex.hpp>
#include <CoinError.hpp>
#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/work_memory.hpp"

namespace leastwise::solver {
namespace {

/// CLP's tolerances, in normalised rows (largest coefficient 1) and costs (largest cost 1).
constexpr double feasibility_tolerance = 1e-9;
/// CLP aborts on costs of 1e25 and misreads larger coefficients.
constexpr double largest_number = 1e20;

double to_clp(double bound) {
  if (bound <= -largest_number) return -COIN_DBL_MAX;
  if (bound >= largest_number) return COIN_DBL_MAX;
  return bound;
}

void require(bool holds, const char* what) {
  if (!holds) throw std::invalid_argument(std::string("linear program: ") + what);
}

void require_bounds(double lower, double upper) {
  require(!std::isnan(lower) && !std::isnan(upper), "a bound is not a number");
  require(lower <= upper, "a lower bound is above its upper bound");
}

void require_solvable(const LinearData& data) {
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

/// Divides each row by its largest magnitude; 1 for an empty row.
std::vector<double> row_scales(const LinearData& data) {
  std::vector<double> scale(static_cast<std::size_t>(data.rows), 1.0);
  for (std::size_t i = 0; i < scale.size(); ++i) {
    double largest = 0;
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e)
      largest = std::max(largest, std::fabs(data.entries[static_cast<std::size_t>(e)].value));
    if (largest > 0) scale[i] = largest;
  }
  return scale;
}

double scaled(double bound, double scale) { return to_clp(bound / scale); }

Standing standing(ClpSimplex::Status status) {
  switch (status) {
    case ClpSimplex::basic:
      return Standing::basic;
    case ClpSimplex::atUpperBound:
      return Standing::at_upper;
    case ClpSimplex::atLowerBound:
      return Standing::at_lower;
    case ClpSimplex::isFixed:
      return Standing::fixed;
    case ClpSimplex::isFree:
    case ClpSimplex::superBasic:
      break;
  }
  return Standing::free;
}

}  // namespace

/// The one place that holds CLP's own type.
struct LinearProgram::Clp {
  Clp();
  int dual();
  int dual_from_scratch();

  ClpSimplex simplex;
  bool areas_kept = false;  ///< the work areas of the last solve are there
};

/// CLP writes out the texts of its messages for every model, which takes longer than a small solve.
/// They never change, so they are written once and copied, which is one block each.
LinearProgram::Clp::Clp() : simplex(true) {
  static const ClpSimplex& texts = *new ClpSimplex;  // never destroyed: a thread may outlive main
  *simplex.messagesPointer() = texts.messages();
  *simplex.coinMessagesPointer() = texts.coinMessages();
  simplex.setLogLevel(0);  // before anything else: CLP prints by default
}

/// The bits of `ClpSimplex::dual`: 1 keeps the work areas at the end, 4 goes on from those of the
/// last solve. Bit 2, which goes on from its factorisation too, gave false optima, failed
/// assertions and writes out of bounds after bounds had changed (CLP 1.17.6), and saves next to
/// nothing.
int LinearProgram::Clp::dual() {
  simplex.dual(0, 1 | (areas_kept ? 4 : 0));
  areas_kept = true;
  return simplex.status();
}

int LinearProgram::Clp::dual_from_scratch() {
  simplex.setWhatsChanged(0);  // nothing of the last solve is used
  areas_kept = false;
  simplex.dual();
  return simplex.status();
}

LinearData relaxation(const model::Model& model) {
  return {model.rows,      model.columns,      model.row_start,    model.entries, model.row_lower,
          model.row_upper, model.column_lower, model.column_upper, model.cost};
}

LinearProgram::LinearProgram(const LinearData& data) {
  require_solvable(data);
  require_work_memory();
  clp_ = std::make_unique<Clp>();
  row_scale_ = row_scales(data);
  lower_ = data.lower;
  upper_ = data.upper;
  double largest_cost = 0;
  for (const double c : data.cost) largest_cost = std::max(largest_cost, std::fabs(c));
  if (largest_cost > 0) cost_scale_ = largest_cost;

  const auto columns = static_cast<std::size_t>(data.columns);
  std::vector<CoinBigIndex> start(columns + 1, 0);
  for (const auto& entry : data.entries) ++start[static_cast<std::size_t>(entry.column) + 1];
  for (std::size_t j = 0; j < columns; ++j) start[j + 1] += start[j];
  std::vector<CoinBigIndex> next(start.begin(), start.end() - 1);
  std::vector<int> row(data.entries.size());
  std::vector<double> value(data.entries.size());
  std::vector<double> row_lower(row_scale_.size());
  std::vector<double> row_upper(row_scale_.size());
  for (std::size_t i = 0; i < row_scale_.size(); ++i) {
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e) {
      const auto& entry = data.entries[static_cast<std::size_t>(e)];
      const auto at = static_cast<std::size_t>(next[static_cast<std::size_t>(entry.column)]++);
      row[at] = static_cast<int>(i);
      value[at] = entry.value / row_scale_[i];
    }
    row_lower[i] = scaled(data.row_lower[i], row_scale_[i]);
    row_upper[i] = scaled(data.row_upper[i], row_scale_[i]);
  }
  std::vector<double> lower(columns);
  std::vector<double> upper(columns);
  std::vector<double> cost(columns);
  for (std::size_t j = 0; j < columns; ++j) {
    lower[j] = to_clp(data.lower[j]);
    upper[j] = to_clp(data.upper[j]);
    cost[j] = data.cost[j] / cost_scale_;
  }
  auto& simplex = clp_->simplex;
  simplex.loadProblem(data.columns, data.rows, start.data(), row.data(), value.data(), lower.data(),
                      upper.data(), cost.data(), row_lower.data(), row_upper.data());
  simplex.setPrimalTolerance(feasibility_tolerance);
  simplex.setDualTolerance(feasibility_tolerance);
}

LinearProgram::~LinearProgram() = default;
LinearProgram::LinearProgram(LinearProgram&&) noexcept = default;
LinearProgram& LinearProgram::operator=(LinearProgram&&) noexcept = default;

void LinearProgram::set_column_bounds(int column, double lower, double upper) {
  require(column >= 0 && column < clp_->simplex.numberColumns(), "a column is out of range");
  require_bounds(lower, upper);
  lower_[static_cast<std::size_t>(column)] = lower;
  upper_[static_cast<std::size_t>(column)] = upper;
  clp_->simplex.setColumnBounds(column, to_clp(lower), to_clp(upper));
}

void LinearProgram::set_row_bounds(int row, double lower, double upper) {
  require(row >= 0 && row < clp_->simplex.numberRows(), "a row is out of range");
  require_bounds(lower, upper);
  const double scale = row_scale_[static_cast<std::size_t>(row)];
  clp_->simplex.setRowBounds(row, scaled(lower, scale), scaled(upper, scale));
}

LinearStatus LinearProgram::solve(const Deadline& deadline) {
  auto& simplex = clp_->simplex;
  const auto limit = [&] {
    if (!deadline) return;
    const std::chrono::duration<double> left = *deadline - std::chrono::steady_clock::now();
    simplex.setMaximumWallSeconds(std::max(left.count(), 1e-3));
  };
  try {
    limit();
    clp_->dual();
    if (simplex.status() == 4 || simplex.status() < 0 ||
        (simplex.status() == 0 && simplex.secondaryStatus() != 0)) {
      const int scaling = simplex.scalingFlag();
      simplex.allSlackBasis(true);
      simplex.scaling(0);
      limit();
      clp_->dual_from_scratch();
      if (simplex.status() == 4 || (simplex.status() == 0 && simplex.secondaryStatus() != 0)) {
        limit();
        simplex.primal();
        if (simplex.status() != 0 && simplex.status() != 3) return LinearStatus::failed;
      }
      simplex.scaling(scaling);
    }
  } catch (const CoinError&) {
    return LinearStatus::failed;  // CoinError is no std::exception: it must not leave this file
  }
  if (simplex.status() == 3) return LinearStatus::time_limit;
  if (simplex.status() == 1) return LinearStatus::infeasible;
  if (simplex.status() != 0 || simplex.secondaryStatus() != 0) return LinearStatus::failed;
  const auto columns = static_cast<std::size_t>(simplex.numberColumns());
  values_.resize(columns);
  const double* x = simplex.primalColumnSolution();
  for (std::size_t j = 0; j < columns; ++j)
    values_[j] = std::clamp(x[j], lower_[j], upper_[j]) + 0.0;  // + 0.0: no minus zero
  duals_.resize(row_scale_.size());
  const double* y = simplex.dualRowSolution();
  for (std::size_t i = 0; i < row_scale_.size(); ++i)
    duals_[i] = y[i] * cost_scale_ / row_scale_[i] + 0.0;
  cost_value_ = simplex.objectiveValue() * cost_scale_;
  return LinearStatus::optimal;
}

std::vector<double> LinearProgram::infeasibility_multipliers() const {
  // CLP makes an array. NOLINTNEXTLINE(*-avoid-c-arrays)
  const std::unique_ptr<double[]> ray(clp_->simplex.infeasibilityRay());
  if (!ray) return {};
  std::vector<double> multipliers(row_scale_.size());
  for (std::size_t i = 0; i < row_scale_.size(); ++i)
    multipliers[i] = -ray[i] / row_scale_[i] + 0.0;
  return multipliers;
}

WarmStart LinearProgram::warm_start() const {
  const auto& simplex = clp_->simplex;
  const int count = simplex.numberColumns() + simplex.numberRows();
  const unsigned char* status = simplex.statusArray();
  return {status, status + count};
}

void LinearProgram::set_warm_start(const WarmStart& start) {
  clp_->simplex.copyinStatus(start.data());
}

Standing LinearProgram::column_standing(int column) const {
  return standing(clp_->simplex.getColumnStatus(column));
}

Standing LinearProgram::row_standing(int row) const {
  return standing(clp_->simplex.getRowStatus(row));
}

}  // namespace leastwise::solver
