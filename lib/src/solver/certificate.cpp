#include "solver/certificate.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace leastwise::solver {
namespace {

using model::infinity;

/// Visits (column, value) of row `i`.
template <class Visit>
void for_each_entry(const LinearProgram& data, std::size_t i, Visit visit) {
  for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e) {
    const auto& entry = data.entries[static_cast<std::size_t>(e)];
    visit(static_cast<std::size_t>(entry.column), entry.value);
  }
}

/// A'y and, for judging rounding, the sum of the magnitudes of its terms.
struct Priced {
  std::vector<double> sum;
  std::vector<double> size;
};

Priced price_out(const LinearProgram& data, std::span<const double> y) {
  Priced priced{std::vector<double>(data.cost.size(), 0.0),
                std::vector<double>(data.cost.size(), 0.0)};
  for (std::size_t i = 0; i < y.size(); ++i) {
    if (y[i] == 0) continue;
    for_each_entry(data, i, [&](std::size_t j, double a) {
      priced.sum[j] += a * y[i];
      priced.size[j] += std::fabs(a * y[i]);
    });
  }
  return priced;
}

double relative(double amount, double size) {
  if (amount <= 0) return 0;
  return size > 0 ? amount / size : infinity;
}

/// By how much `x` misses the bounds of row `i`, relative to the size of its terms.
double row_violation(const LinearProgram& data, std::size_t i, std::span<const double> x) {
  double activity = 0;
  double size = 0;
  for_each_entry(data, i, [&](std::size_t j, double a) {
    activity += a * x[j];
    size += std::fabs(a * x[j]);
  });
  double worst = 0;
  if (data.row_lower[i] > -infinity)
    worst = relative(data.row_lower[i] - activity, std::max(size, std::fabs(data.row_lower[i])));
  if (data.row_upper[i] < infinity)
    worst = std::max(worst, relative(activity - data.row_upper[i],
                                     std::max(size, std::fabs(data.row_upper[i]))));
  return worst;
}

/// Multipliers with a one on `row`, signed to blame its minimum or its maximum.
std::vector<double> single(const LinearProgram& data, std::size_t row, double sign) {
  std::vector<double> y(static_cast<std::size_t>(data.rows), 0.0);
  y[row] = sign;
  return y;
}

/// A row that no x within the column bounds can satisfy.
std::vector<double> impossible_row(const LinearProgram& data) {
  for (std::size_t i = 0; i < static_cast<std::size_t>(data.rows); ++i) {
    double most = 0;
    double least = 0;
    for_each_entry(data, i, [&](std::size_t j, double a) {
      if (a == 0) return;
      most += a > 0 ? a * data.upper[j] : a * data.lower[j];
      least += a > 0 ? a * data.lower[j] : a * data.upper[j];
    });
    if (most < data.row_lower[i]) {
      auto y = single(data, i, 1);
      if (contradicts(data, y)) return y;
    }
    if (least > data.row_upper[i]) {
      auto y = single(data, i, -1);
      if (contradicts(data, y)) return y;
    }
  }
  return {};
}

}  // namespace

LinearProgram elastic(const LinearProgram& data) {
  LinearProgram out;
  out.rows = data.rows;
  out.columns = data.columns;
  out.row_lower = data.row_lower;
  out.row_upper = data.row_upper;
  out.lower = data.lower;
  out.upper = data.upper;
  out.cost.assign(data.cost.size(), 0.0);
  for (std::size_t i = 0; i < static_cast<std::size_t>(data.rows); ++i) {
    double scale = 0;
    for_each_entry(data, i, [&](std::size_t j, double a) {
      out.entries.push_back({static_cast<int>(j), a});
      scale = std::max(scale, std::fabs(a));
    });
    if (scale == 0) scale = 1;
    const auto surplus = [&](double sign) {
      out.entries.push_back({out.columns++, sign * scale});
      out.lower.push_back(0);
      out.upper.push_back(infinity);
      out.cost.push_back(1);
    };
    if (data.row_lower[i] > -infinity) surplus(1);
    if (data.row_upper[i] < infinity) surplus(-1);
    out.row_start.push_back(static_cast<int>(out.entries.size()));
  }
  return out;
}

double primal_violation(const LinearProgram& data, std::span<const double> x) {
  double worst = 0;
  for (std::size_t i = 0; i < static_cast<std::size_t>(data.rows); ++i)
    worst = std::max(worst, row_violation(data, i, x));
  for (std::size_t j = 0; j < data.cost.size(); ++j) {
    worst = std::max(worst, relative(data.lower[j] - x[j], std::fabs(data.lower[j])));
    worst = std::max(worst, relative(x[j] - data.upper[j], std::fabs(data.upper[j])));
  }
  return worst;
}

void round_small_to_zero(const LinearProgram& data, std::vector<double>& x) {
  constexpr double noticed = 1e-10;  // by a row, relative to its terms
  if (x.empty()) return;
  const double trace = 1e-9 * *std::max_element(x.begin(), x.end());
  std::vector<double> cleared = x;
  for (std::size_t j = 0; j < x.size(); ++j)
    if (x[j] <= trace && data.lower[j] == 0) cleared[j] = 0;
  for (bool restored = true; std::exchange(restored, false);)
    for (std::size_t i = 0; i < static_cast<std::size_t>(data.rows); ++i) {
      if (row_violation(data, i, cleared) <= noticed) continue;
      for_each_entry(data, i, [&](std::size_t j, double) {
        restored = restored || cleared[j] != x[j];
        cleared[j] = x[j];
      });
    }
  x = std::move(cleared);
}

double optimality_gap(const LinearProgram& data, std::span<const double> x,
                      const DualProof& proof) {
  constexpr double rounding = 1e-13;
  double cost = 0;
  double turnover = 0;
  for (std::size_t j = 0; j < x.size(); ++j) {
    cost += data.cost[j] * x[j];
    turnover += std::fabs(data.cost[j] * x[j]);
  }
  return relative(std::fabs(cost - proof.bound) - rounding * proof.size, turnover);
}

void clean_duals(const LinearProgram& data, std::vector<double>& y) {
  double largest_cost = 0;
  for (const double c : data.cost) largest_cost = std::max(largest_cost, std::fabs(c));
  for (std::size_t i = 0; i < y.size(); ++i) {
    if (y[i] == 0 || std::isfinite(y[i] > 0 ? data.row_lower[i] : data.row_upper[i])) continue;
    double largest = 0;
    for_each_entry(
        data, i, [&](std::size_t, double a) { largest = std::max(largest, std::fabs(a * y[i])); });
    if (largest <= 1e-9 * largest_cost) y[i] = 0;
  }
}

DualProof dual_proof(const LinearProgram& data, std::span<const double> y) {
  DualProof proof;
  const auto count = [&](double term) {
    proof.bound += term;
    proof.size += std::fabs(term);
  };
  const auto priced = price_out(data, y);
  for (std::size_t i = 0; i < y.size(); ++i) {
    if (y[i] == 0) continue;
    const double side = y[i] > 0 ? data.row_lower[i] : data.row_upper[i];
    if (std::isfinite(side))
      count(y[i] * side);
    else
      proof.violation = infinity;
  }
  for (std::size_t j = 0; j < data.cost.size(); ++j) {
    const double reduced = data.cost[j] - priced.sum[j];
    if (reduced == 0) continue;
    const double side = reduced > 0 ? data.lower[j] : data.upper[j];
    if (std::isfinite(side))
      count(reduced * side);
    else
      proof.violation =
          std::max(proof.violation,
                   relative(std::fabs(reduced), std::max(std::fabs(data.cost[j]), priced.size[j])));
  }
  return proof;
}

std::vector<double> reduced_costs(const LinearProgram& data, std::span<const double> y) {
  auto reduced = price_out(data, y).sum;
  for (std::size_t j = 0; j < reduced.size(); ++j) reduced[j] = data.cost[j] - reduced[j];
  return reduced;
}

namespace {

/// By how much what `y` demands of the rows passes what any x within its bounds reaches, relative
/// to the terms of both.
double missing(const LinearProgram& data, std::span<const double> y) {
  const auto priced = price_out(data, y);
  double demanded = 0;
  double size = 0;
  for (std::size_t i = 0; i < y.size(); ++i) {
    if (y[i] == 0) continue;
    const double side = y[i] > 0 ? data.row_lower[i] : data.row_upper[i];
    if (!std::isfinite(side)) return -infinity;
    demanded += y[i] * side;
    size += std::fabs(y[i] * side);
  }
  double reachable = 0;
  for (std::size_t j = 0; j < data.cost.size(); ++j) {
    const double z = priced.sum[j];
    if (std::fabs(z) <= 1e-11 * priced.size[j]) continue;
    const double side = z > 0 ? data.upper[j] : data.lower[j];
    if (!std::isfinite(side)) return -infinity;
    reachable += z * side;
    size += std::fabs(z * side);
  }
  const double gap = demanded - reachable;
  return size > 0 ? gap / size : 0;
}

}  // namespace

bool contradicts(const LinearProgram& data, std::span<const double> y) {
  return missing(data, y) > 1e-10;
}

bool leaves_no_room(const LinearProgram& data, std::span<const double> y) {
  return missing(data, y) > -1e-10;
}

std::vector<double> prove_infeasible(const LinearProgram& data, const base::Deadline& deadline) {
  auto y = impossible_row(data);
  if (!y.empty()) return y;
  LpSolver program(elastic(data));
  if (program.solve(deadline) != LinearStatus::optimal) return {};
  const auto duals = program.duals();
  y.assign(duals.begin(), duals.end());
  double largest = 0;
  for (const double v : y) largest = std::max(largest, std::fabs(v));
  for (double& v : y)
    if (std::fabs(v) <= 1e-12 * largest) v = 0;
  if (contradicts(data, y)) return y;
  return {};
}

}  // namespace leastwise::solver
