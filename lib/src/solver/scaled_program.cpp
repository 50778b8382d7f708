#include "solver/scaled_program.hpp"

#include <algorithm>
#include <cmath>

namespace leastwise::solver {
namespace {

/// The power of two next below `size`; 1 for zero.
double power_of_two(double size) { return size > 0 ? std::exp2(std::ilogb(size)) : 1; }

/// A unit in which the smallest limit of a row is about 1, the largest at most a million.
double unit_of_limits(const LinearProgram& data, const std::vector<double>& row_scale) {
  double least = model::infinity;
  double most = 0;
  for (std::size_t i = 0; i < row_scale.size(); ++i)
    for (const double bound : {data.row_lower[i], data.row_upper[i]}) {
      if (bound == 0 || !std::isfinite(bound)) continue;
      least = std::min(least, std::fabs(bound) / row_scale[i]);
      most = std::max(most, std::fabs(bound) / row_scale[i]);
    }
  return most > 0 ? power_of_two(std::max(least, 1e-6 * most)) : 1;
}

}  // namespace

ScaledProgram::ScaledProgram(const LinearProgram& data)
    : columns_(data.cost.size()),
      cost_(data.cost.size() + data.row_lower.size(), 0.0),
      row_scale_(data.row_lower.size(), 1.0) {
  scale_rows(data);
  std::vector<double> column_scale(columns_, 0.0);
  for (const auto& entry : entries_)
    column_scale[entry.column] = std::max(column_scale[entry.column], std::fabs(entry.value));
  for (double& scale : column_scale) scale = power_of_two(scale);
  for (auto& entry : entries_) entry.value /= column_scale[entry.column];
  set_units(data, column_scale);
  for (const double scale : column_scale) to_cost_.push_back(1 / scale);
  rescale_costs(price(data.cost));
}

/// Scales `cost`. Returns: the largest.
double ScaledProgram::price(std::span<const double> cost) {
  double largest = 0;
  for (std::size_t j = 0; j < columns_; ++j) {
    cost_[j] = cost[j] * to_cost_[j];
    largest = std::max(largest, std::fabs(cost_[j]));
  }
  return largest;
}

void ScaledProgram::set_costs(std::span<const double> cost) {
  const double largest = price(cost);
  if (largest < 0.25 || largest >= 4) rescale_costs(largest);
}

void ScaledProgram::set_row(std::size_t i, std::span<const model::Entry> entries) {
  for (std::size_t k = 0; k < entries.size(); ++k) {
    auto& entry = entries_[start_[i] + k];
    entry.value = entries[k].value * unit_[entry.column] / unit_[columns_ + i];
  }
}

void ScaledProgram::rescale_costs(double largest) {
  const double unit = power_of_two(largest);
  cost_scale_ *= unit;
  for (std::size_t j = 0; j < columns_; ++j) {
    cost_[j] /= unit;
    to_cost_[j] /= unit;
  }
}

void ScaledProgram::scale_rows(const LinearProgram& data) {
  entries_.reserve(data.entries.size());
  for (std::size_t i = 0; i < row_scale_.size(); ++i) {
    double largest = 0;
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e)
      largest = std::max(largest, std::fabs(data.entries[static_cast<std::size_t>(e)].value));
    row_scale_[i] = power_of_two(largest);
    for (int e = data.row_start[i]; e < data.row_start[i + 1]; ++e) {
      const auto& entry = data.entries[static_cast<std::size_t>(e)];
      entries_.push_back({static_cast<std::size_t>(entry.column), entry.value / row_scale_[i]});
    }
    start_.push_back(entries_.size());
  }
}

void ScaledProgram::set_units(const LinearProgram& data, const std::vector<double>& column_scale) {
  limit_scale_ = unit_of_limits(data, row_scale_);
  unit_.reserve(variables());
  for (const double scale : column_scale) unit_.push_back(limit_scale_ / scale);
  for (const double scale : row_scale_) unit_.push_back(limit_scale_ * scale);
}

}  // namespace leastwise::solver
