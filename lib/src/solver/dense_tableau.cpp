#include "solver/dense_tableau.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "base/numeric/wide_loops.hpp"

namespace leastwise::solver {
namespace {

/// A pivot below this, in scaled rows, is taken for rounding.
constexpr double least_pivot = 1e-9;

/// target -= factor * source, over `count` numbers.
LEASTWISE_WIDE_LOOPS void subtract(double* __restrict target, const double* __restrict source,
                                   double factor, std::size_t count) {
  for (std::size_t j = 0; j < count; ++j) target[j] -= factor * source[j];
}

/// The pivot step of Jordan's elimination on `rows` rows and the row of reduced costs.
LEASTWISE_WIDE_LOOPS void eliminate(double* __restrict entries, double* __restrict reduced,
                                    std::size_t rows, std::size_t stride, std::size_t p,
                                    std::size_t q) {
  double* __restrict pivot = entries + p * stride;
  const double inverse = 1 / pivot[q];
  for (std::size_t j = 0; j < stride; ++j) pivot[j] *= inverse;
  pivot[q] = inverse;
  for (std::size_t i = 0; i <= rows; ++i) {
    if (i == p) continue;
    double* __restrict other = i == rows ? reduced : entries + i * stride;
    const double factor = other[q];
    if (factor == 0) continue;
    other[q] = 0;
    for (std::size_t j = 0; j < stride; ++j) other[j] -= factor * pivot[j];
  }
}

}  // namespace

DenseTableau::DenseTableau(const ScaledProgram& program)
    : stride_((program.columns() + 3) / 4 * 4) {
  reduced_.resize(stride_);
  nonbasic_.resize(program.columns());
  where_.assign(program.variables(), nowhere);
  entries_.reserve(program.rows() * stride_);
  for (std::size_t i = 0; i < program.rows(); ++i) {
    where_[program.columns() + i] = static_cast<int>(i);
    basic_.push_back(program.columns() + i);
  }
  reset(program);
}

void DenseTableau::reset(const ScaledProgram& program) {
  const auto n = program.columns();
  // Rows that are awake, in their own order, whatever stood where.
  std::vector<std::size_t> awake;
  for (std::size_t i = 0; i < program.rows(); ++i)
    if (!asleep(n + i)) awake.push_back(n + i);
  for (std::size_t j = 0; j < n; ++j) {
    nonbasic_[j] = j;
    where_[j] = -1 - static_cast<int>(j);
    reduced_[j] = program.cost(j);
  }
  std::fill(reduced_.begin() + static_cast<std::ptrdiff_t>(n), reduced_.end(), 0.0);
  basic_ = std::move(awake);
  entries_.assign(basic_.size() * stride_, 0.0);
  for (std::size_t p = 0; p < basic_.size(); ++p) {
    place(p);
    for (const auto& [column, value] : program.row(basic_[p] - n)) mutable_row(p)[column] = -value;
  }
  pivots_ = 0;
}

void DenseTableau::price_out(std::span<const double> cost, double* out) const {
  for (std::size_t q = 0; q < nonbasic_.size(); ++q) out[q] = cost[nonbasic_[q]];
  std::fill(out + nonbasic_.size(), out + stride_, 0.0);
  for (std::size_t p = 0; p < basic_.size(); ++p)
    if (const double c = cost[basic_[p]]; c != 0) subtract(out, row(p), c, stride_);
}

bool DenseTableau::agrees_with(const ScaledProgram& program) const {
  constexpr double rounding = 1e-11;
  constexpr double golden = 0.6180339887498949;  // its multiples lie far from one another
  const auto n = program.columns();
  std::vector<double> mixture(program.variables(), 0.0);
  for (std::size_t i = 0; i < program.rows(); ++i) {
    if (asleep(n + i)) continue;
    const double weight = 0.5 + std::fmod(golden * static_cast<double>(i + 1), 1.0);
    for (const auto& [column, value] : program.row(i)) mixture[column] += weight * value;
    mixture[n + i] = -weight;
  }
  std::vector<double> rest(stride_);
  price_out(mixture, rest.data());
  for (std::size_t q = 0; q < nonbasic_.size(); ++q) {
    if (std::fabs(rest[q]) <= rounding) continue;
    double size = std::fabs(mixture[nonbasic_[q]]);
    for (std::size_t p = 0; p < basic_.size(); ++p)
      size = std::max(size, std::fabs(mixture[basic_[p]] * entry(p, q)));
    if (std::fabs(rest[q]) > rounding * size) return false;
  }
  return true;
}

void DenseTableau::exchange(std::size_t p, std::size_t q) {
  eliminate(entries_.data(), reduced_.data(), rows(), stride_, p, q);
  std::swap(basic_[p], nonbasic_[q]);
  place(p);
  where_[nonbasic_[q]] = -1 - static_cast<int>(q);
  ++pivots_;
}

bool DenseTableau::change_row(std::size_t v, std::span<const double> change) {
  std::vector<double> out(stride_);
  price_out(change, out.data());
  ++pivots_;
  if (is_basic(v)) {
    subtract(mutable_row(row_of(v)), out.data(), 1, stride_);
    return true;
  }
  // The activity so far is (the new one - the change on the other nonbasics) / (1 + its own share).
  const auto q = column_of(v);
  const double pivot = 1 + out[q];
  if (std::fabs(pivot) < least_pivot) return false;
  for (std::size_t p = 0; p <= rows(); ++p) {
    double* target = p == rows() ? reduced_.data() : mutable_row(p);
    if (target[q] != 0) subtract(target, out.data(), target[q] / pivot, stride_);
  }
  return true;
}

void DenseTableau::wake(const ScaledProgram& program, std::size_t v) {
  basic_.push_back(v);
  place(rows() - 1);
  entries_.resize(rows() * stride_, 0.0);
  double* own = mutable_row(rows() - 1);
  std::fill(own, own + stride_, 0.0);
  // r = A x, the basic columns written as what they are in the nonbasics.
  for (const auto& [column, value] : program.row(v - program.columns())) {
    if (where_[column] < 0)
      own[column_of(column)] -= value;
    else
      subtract(own, row(row_of(column)), -value, stride_);
  }
}

void DenseTableau::put_to_sleep(std::size_t v) {
  const auto p = row_of(v);
  const auto last = rows() - 1;
  if (p != last) {
    std::copy(row(last), row(last) + stride_, mutable_row(p));
    basic_[p] = basic_[last];
    place(p);
  }
  where_[v] = nowhere;
  basic_.pop_back();
  entries_.resize(rows() * stride_);
}

bool DenseTableau::bring_about(const std::vector<char>& wanted) {
  std::vector<std::size_t> leave;
  std::vector<std::size_t> enter;
  for (std::size_t p = 0; p < rows(); ++p)
    if (!wanted[basic_[p]]) leave.push_back(p);
  for (std::size_t q = 0; q < columns(); ++q)
    if (wanted[nonbasic_[q]]) enter.push_back(q);
  if (leave.size() != enter.size()) return false;
  while (!leave.empty()) {
    std::size_t best_p = 0;
    std::size_t best_q = 0;
    double size = least_pivot;
    for (std::size_t a = 0; a < leave.size(); ++a)
      for (std::size_t b = 0; b < enter.size(); ++b) {
        const double here = std::fabs(entry(leave[a], enter[b]));
        if (here <= size) continue;
        size = here;
        best_p = a;
        best_q = b;
      }
    if (size <= least_pivot) return false;
    exchange(leave[best_p], enter[best_q]);
    std::swap(leave[best_p], leave.back());
    std::swap(enter[best_q], enter.back());
    leave.pop_back();
    enter.pop_back();
  }
  return true;
}

bool DenseTableau::rebuild(const ScaledProgram& program) {
  std::vector<char> wanted(program.variables(), 1);
  for (const auto v : nonbasic_) wanted[v] = 0;
  // A row that is nonbasic has to be there to be exchanged: none of them is asleep.
  reset(program);
  const bool done = bring_about(wanted);
  pivots_ = 0;
  return done;
}

}  // namespace leastwise::solver
