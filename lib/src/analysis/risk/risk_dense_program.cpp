#include <algorithm>
#include <cmath>
#include <optional>

#include "analysis/risk/risk_draws.hpp"
#include "analysis/risk/risk_tableau.hpp"

namespace leastwise::analysis {
namespace {

using model::infinity;

constexpr int lane = 4;  ///< columns are stored in groups of so many

/// A fixed number in [0.5, 1.5) for each row.
double weight_of_row(int i) {
  return 0.5 +
         static_cast<double>(counter_bits(1, static_cast<std::uint64_t>(i), 2) >> 11U) * 0x1p-53;
}

/// A sum of terms of which some may be infinite.
struct OpenSum {
  double finite = 0;
  int infinite = 0;

  void add(double term) {
    if (std::isfinite(term))
      finite += term;
    else
      ++infinite;
  }
  /// The sum without one of its terms; nothing when that is infinite.
  [[nodiscard]] std::optional<double> without(double term) const {
    const bool own = !std::isfinite(term);
    if (infinite > (own ? 1 : 0)) return std::nullopt;
    return own ? finite : finite - term;
  }
};

/// The least and the most that the row can come to.
struct ActivityRange {
  OpenSum least{};
  OpenSum most{};
};

double least_term(const DenseProgram& program, double a, std::size_t j) {
  return a * (a > 0 ? program.least[j] : program.most[j]);
}

double most_term(const DenseProgram& program, double a, std::size_t j) {
  return a * (a > 0 ? program.most[j] : program.least[j]);
}

ActivityRange activity(const DenseProgram& program, std::size_t i) {
  ActivityRange sum;
  const double* row = program.a.data() + i * static_cast<std::size_t>(program.stride);
  for (std::size_t j = 0; j < static_cast<std::size_t>(program.columns); ++j) {
    if (row[j] == 0) continue;
    sum.least.add(least_term(program, row[j], j));
    sum.most.add(most_term(program, row[j], j));
  }
  return sum;
}

/// Lowers the most of every column to what single rows leave it, with room for rounding.
void narrow(DenseProgram& program, const VariableBounds& bounds) {
  const auto n = static_cast<std::size_t>(program.columns);
  for (std::size_t i = 0; i < static_cast<std::size_t>(program.rows); ++i) {
    const double* row = program.a.data() + i * static_cast<std::size_t>(program.stride);
    const ActivityRange sum = activity(program, i);
    for (std::size_t j = 0; j < n; ++j) {
      if (row[j] == 0) continue;
      const auto others = row[j] > 0 ? sum.least.without(least_term(program, row[j], j))
                                     : sum.most.without(most_term(program, row[j], j));
      const double side = row[j] > 0 ? bounds.upper[n + i] : bounds.lower[n + i];
      if (!others || !std::isfinite(side)) continue;
      const double most = (side - *others) / row[j];
      const double room = 1e-9 * (std::fabs(side) + std::fabs(*others)) / std::fabs(row[j]);
      program.most[j] = std::max(std::min(program.most[j], most + room), program.least[j]);
    }
  }
}

}  // namespace

DenseProgram::DenseProgram(const solver::LinearData& data)
    : rows(data.rows), columns(data.columns), stride((data.columns + lane - 1) / lane * lane) {
  const auto m = static_cast<std::size_t>(rows);
  const auto n = static_cast<std::size_t>(columns);
  a.assign(m * static_cast<std::size_t>(stride), 0.0);
  row_scale.assign(m, 1.0);
  probe.assign(n + m, 0.0);
  for (std::size_t i = 0; i < m; ++i) {
    double largest = 0;
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e)
      largest = std::max(largest, std::fabs(data.entries[static_cast<std::size_t>(e)].value));
    if (largest > 0) row_scale[i] = largest;
    const double weight = weight_of_row(static_cast<int>(i));
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e) {
      const auto& entry = data.entries[static_cast<std::size_t>(e)];
      const auto j = static_cast<std::size_t>(entry.column);
      a[i * static_cast<std::size_t>(stride) + j] = entry.value / row_scale[i];
      probe[j] += weight * entry.value / row_scale[i];
    }
    probe[n + i] = -weight;
  }
  for (std::uint64_t v = 0; v < 2 * (n + m); ++v) key.push_back(counter_bits(3, v, 4));
  const auto bounds = variable_bounds(*this, data);
  least = bounds.lower;
  most = bounds.upper;
  constexpr int rounds = 3;
  for (int k = 0; k < rounds; ++k) narrow(*this, bounds);
  for (std::size_t i = 0; i < m; ++i) {
    const ActivityRange sum = activity(*this, i);
    if (sum.least.infinite == 0) least[n + i] = std::max(least[n + i], sum.least.finite);
    if (sum.most.infinite == 0) most[n + i] = std::min(most[n + i], sum.most.finite);
  }
}

VariableBounds variable_bounds(const DenseProgram& program, const solver::LinearData& data) {
  VariableBounds bounds{data.lower, data.upper};
  for (std::size_t i = 0; i < program.row_scale.size(); ++i) {
    bounds.lower.push_back(data.row_lower[i] / program.row_scale[i]);
    bounds.upper.push_back(data.row_upper[i] / program.row_scale[i]);
  }
  return bounds;
}

}  // namespace leastwise::analysis
