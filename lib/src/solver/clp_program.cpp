#include "solver/clp_program.hpp"

#include <ClpSimplex.hpp>
#include <CoinError.hpp>
#include <algorithm>
#include <cmath>

#include "solver/work_memory.hpp"

namespace leastwise::solver {
namespace {

/// CLP's tolerances, in normalised rows (largest coefficient 1) and costs (largest cost 1).
constexpr double feasibility_tolerance = 1e-9;

double to_clp(double bound) {
  if (bound <= -largest_number) return -COIN_DBL_MAX;
  if (bound >= largest_number) return COIN_DBL_MAX;
  return bound;
}

/// Divides each row by its largest magnitude; 1 for an empty row.
std::vector<double> row_scales(const LinearProgram& data) {
  std::vector<double> scale(static_cast<std::size_t>(data.rows), 1.0);
  for (std::size_t i = 0; i < scale.size(); ++i) {
    double largest = 0;
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e)
      largest = std::max(largest, std::fabs(data.entries[static_cast<std::size_t>(e)].value));
    if (largest > 0) scale[i] = largest;
  }
  return scale;
}

BasisStatus standing(ClpSimplex::Status status) {
  switch (status) {
    case ClpSimplex::basic:
      return BasisStatus::basic;
    case ClpSimplex::atUpperBound:
      return BasisStatus::at_upper;
    case ClpSimplex::atLowerBound:
      return BasisStatus::at_lower;
    case ClpSimplex::isFixed:
      return BasisStatus::fixed;
    case ClpSimplex::isFree:
    case ClpSimplex::superBasic:
      break;
  }
  return BasisStatus::free;
}

ClpSimplex::Status status_of(BasisStatus standing) {
  switch (standing) {
    case BasisStatus::basic:
      return ClpSimplex::basic;
    case BasisStatus::at_lower:
      return ClpSimplex::atLowerBound;
    case BasisStatus::at_upper:
      return ClpSimplex::atUpperBound;
    case BasisStatus::fixed:
      return ClpSimplex::isFixed;
    case BasisStatus::free:
      break;
  }
  return ClpSimplex::isFree;
}

}  // namespace

/// The one place that holds CLP's own type.
struct ClpProgram::Clp {
  Clp();
  int dual();
  int dual_from_scratch();

  ClpSimplex simplex;
  bool areas_kept = false;  ///< the work areas of the last solve are there
};

/// CLP writes out the texts of its messages for every model, which takes longer than a small solve.
/// They never change, so they are written once and copied, which is one block each.
ClpProgram::Clp::Clp() : simplex(true) {
  static const ClpSimplex& texts = *new ClpSimplex;  // never destroyed: a thread may outlive main
  *simplex.messagesPointer() = texts.messages();
  *simplex.coinMessagesPointer() = texts.coinMessages();
  simplex.setLogLevel(0);  // before anything else: CLP prints by default
}

/// The bits of `ClpSimplex::dual`: 1 keeps the work areas at the end, 4 goes on from those of the
/// last solve. Bit 2, which goes on from its factorisation too, gave false optima, failed
/// assertions and writes out of bounds after bounds had changed (CLP 1.17.6), and saves next to
/// nothing.
int ClpProgram::Clp::dual() {
  simplex.dual(0, 1 | (areas_kept ? 4 : 0));
  areas_kept = true;
  return simplex.status();
}

int ClpProgram::Clp::dual_from_scratch() {
  simplex.setWhatsChanged(0);  // nothing of the last solve is used
  areas_kept = false;
  simplex.dual();
  return simplex.status();
}

ClpProgram::ClpProgram(const LinearProgram& data) {
  require_work_memory();
  clp_ = std::make_unique<Clp>();
  row_scale_ = row_scales(data);
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
  for (int i = 0; i < data.rows; ++i) {
    const auto r = static_cast<std::size_t>(i);
    for (int e = data.row_start[r]; e < data.row_start[r + 1]; ++e) {
      const auto& entry = data.entries[static_cast<std::size_t>(e)];
      const auto at = static_cast<std::size_t>(next[static_cast<std::size_t>(entry.column)]++);
      row[at] = i;
      value[at] = entry.value / row_scale_[r];
    }
    row_lower[r] = scaled(data.row_lower[r], i);
    row_upper[r] = scaled(data.row_upper[r], i);
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

ClpProgram::~ClpProgram() = default;

double ClpProgram::scaled(double bound, int row) const {
  return to_clp(bound / row_scale_[static_cast<std::size_t>(row)]);
}

void ClpProgram::set_column_bounds(int column, double lower, double upper) {
  clp_->simplex.setColumnBounds(column, to_clp(lower), to_clp(upper));
}

void ClpProgram::set_row_bounds(int row, double lower, double upper) {
  clp_->simplex.setRowBounds(row, scaled(lower, row), scaled(upper, row));
}

LinearStatus ClpProgram::solve(const base::Deadline& deadline) {
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
  return LinearStatus::optimal;
}

void ClpProgram::read(std::vector<double>& x, std::vector<double>& y) const {
  const auto& simplex = clp_->simplex;
  x.assign(simplex.primalColumnSolution(),
           simplex.primalColumnSolution() + simplex.numberColumns());
  y.resize(row_scale_.size());
  for (std::size_t i = 0; i < y.size(); ++i)
    y[i] = simplex.dualRowSolution()[i] * cost_scale_ / row_scale_[i];
}

std::vector<double> ClpProgram::infeasibility_multipliers() const {
  // CLP makes an array. NOLINTNEXTLINE(*-avoid-c-arrays)
  const std::unique_ptr<double[]> ray(clp_->simplex.infeasibilityRay());
  if (!ray) return {};
  std::vector<double> multipliers(row_scale_.size());
  for (std::size_t i = 0; i < row_scale_.size(); ++i)
    multipliers[i] = -ray[i] / row_scale_[i] + 0.0;
  return multipliers;
}

WarmStart ClpProgram::warm_start() const {
  const auto& simplex = clp_->simplex;
  WarmStart start;
  for (int j = 0; j < simplex.numberColumns(); ++j)
    start.push_back(standing(simplex.getColumnStatus(j)));
  for (int i = 0; i < simplex.numberRows(); ++i) start.push_back(standing(simplex.getRowStatus(i)));
  return start;
}

void ClpProgram::set_warm_start(const WarmStart& start) {
  std::vector<unsigned char> status;
  for (const auto standing : start)
    status.push_back(static_cast<unsigned char>(status_of(standing)));
  clp_->simplex.copyinStatus(status.data());
}

}  // namespace leastwise::solver
