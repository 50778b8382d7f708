#include "analysis/risk/risk_tableau.hpp"

#include <algorithm>
#include <cmath>

#include "base/numeric/wide_loops.hpp"

namespace leastwise::analysis {

using model::infinity;

namespace {

LEASTWISE_WIDE_LOOPS void reduced_costs(const Tableau& tableau, std::size_t stride,
                                        const std::vector<double>& cost, double* __restrict out) {
  const std::size_t n = tableau.nonbasic.size();
  for (std::size_t j = 0; j < n; ++j) out[j] = cost[static_cast<std::size_t>(tableau.nonbasic[j])];
  for (std::size_t i = 0; i < tableau.basic.size(); ++i) {
    const double c = cost[static_cast<std::size_t>(tableau.basic[i])];
    if (c == 0) continue;
    const double* __restrict entries = tableau.entries.data() + i * stride;
    for (std::size_t j = 0; j < stride; ++j) out[j] -= c * entries[j];
  }
}

LEASTWISE_WIDE_LOOPS void exchange_entries(Tableau& tableau, std::size_t stride, std::size_t p,
                                           std::size_t q, double* __restrict reduced) {
  double* const entries = tableau.entries.data();
  double* __restrict pivot_row = entries + p * stride;
  const double inverse = 1 / pivot_row[q];
  for (std::size_t j = 0; j < stride; ++j) pivot_row[j] *= inverse;
  pivot_row[q] = inverse;
  for (std::size_t i = 0; i < tableau.basic.size(); ++i) {
    if (i == p) continue;
    double* __restrict other = entries + i * stride;
    const double factor = other[q];
    if (factor == 0) continue;
    other[q] = 0;
    for (std::size_t j = 0; j < stride; ++j) other[j] -= factor * pivot_row[j];
  }
  const double factor = reduced[q];
  reduced[q] = 0;
  for (std::size_t j = 0; j < stride; ++j) reduced[j] -= factor * pivot_row[j];
}

}  // namespace

Pivoting::Pivoting(const DenseProgram& program)
    : program_(&program),
      cost_(static_cast<std::size_t>(program.variables()), 0.0),
      reduced_(static_cast<std::size_t>(program.stride), 0.0),
      column_(static_cast<std::size_t>(program.rows), 0.0) {}

double Pivoting::bound_of(std::size_t j) const {
  const auto v = static_cast<std::size_t>(shown_->nonbasic[j]);
  return shown_->side[j] < 0 ? bounds_->upper[v] : bounds_->lower[v];
}

void Pivoting::set_sides() {
  for (std::size_t j = 0; j < now_.nonbasic.size(); ++j) {
    const auto v = static_cast<std::size_t>(now_.nonbasic[j]);
    if (bounds_->lower[v] == bounds_->upper[v])
      now_.side[j] = 0;
    else if (bounds_->lower[v] == -infinity)
      now_.side[j] = -1;
    else if (bounds_->upper[v] == infinity || now_.side[j] == 0)
      now_.side[j] = 1;
  }
}

void Pivoting::set_values() {
  std::fill(now_.value.begin(), now_.value.end(), 0.0);
  objective_known_ = false;
  for (std::size_t j = 0; j < now_.nonbasic.size(); ++j) {
    const double at = bound_of(j);
    if (at == 0) continue;
    for (std::size_t i = 0; i < now_.value.size(); ++i) now_.value[i] -= row(i)[j] * at;
  }
}

void Pivoting::price_out(const std::vector<double>& cost, std::vector<double>& reduced) const {
  reduced_costs(*shown_, static_cast<std::size_t>(program_->stride), cost, reduced.data());
}

void Pivoting::price() { price_out(cost_, reduced_); }

void Pivoting::load(const Tableau& tableau, const VariableBounds& bounds,
                    const std::vector<double>& cost) {
  shown_ = &tableau;
  bounds_ = &bounds;
  std::copy(cost.begin(), cost.end(), cost_.begin());
  cost_scale_ = 1e-300;
  for (const double c : cost) cost_scale_ = std::max(cost_scale_, std::fabs(c));
  objective_known_ = false;
  price();
}

double Pivoting::objective() {
  if (objective_known_) return objective_;
  objective_known_ = true;
  objective_ = 0;
  for (std::size_t i = 0; i < shown_->value.size(); ++i)
    objective_ += cost_[static_cast<std::size_t>(shown_->basic[i])] * shown_->value[i];
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j) {
    const double c = cost_[static_cast<std::size_t>(shown_->nonbasic[j])];
    if (c != 0) objective_ += c * bound_of(j);
  }
  return objective_;
}

void Pivoting::own() {
  if (shown_ == &now_) return;
  now_ = *shown_;
  shown_ = &now_;
}

void Pivoting::load_rows(const VariableBounds& bounds, const std::vector<double>& cost) {
  const auto m = static_cast<std::size_t>(program_->rows);
  const auto n = static_cast<std::size_t>(program_->columns);
  Tableau start;
  start.entries.resize(program_->a.size());
  for (std::size_t k = 0; k < start.entries.size(); ++k) start.entries[k] = -program_->a[k];
  for (std::size_t i = 0; i < m; ++i) start.basic.push_back(static_cast<int>(n + i));
  for (std::size_t j = 0; j < n; ++j) start.nonbasic.push_back(static_cast<int>(j));
  start.side.assign(n, 1);
  start.value.assign(m, 0.0);
  load(start, bounds, cost);
  own();
  set_sides();
  set_values();
  price();
}

void Pivoting::tighten(const VariableBounds& bounds) {
  own();
  bounds_ = &bounds;
  set_sides();
  set_values();
}

/// The Jordan exchange: basic `p` and nonbasic `q` change places.
void Pivoting::exchange(std::size_t p, std::size_t q) {
  exchange_entries(now_, static_cast<std::size_t>(program_->stride), p, q, reduced_.data());
  std::swap(now_.basic[p], now_.nonbasic[q]);
  ++now_.pivots;
}

bool Pivoting::build(const std::vector<int>& basic, const std::vector<signed char>& side,
                     const VariableBounds& bounds, const std::vector<double>& cost) {
  load_rows(bounds, cost);
  std::vector<char> wanted(static_cast<std::size_t>(program_->variables()), 0);
  for (const int v : basic) wanted[static_cast<std::size_t>(v)] = 1;
  for (std::size_t q = 0; q < now_.nonbasic.size(); ++q) {
    // The column that comes in place of `q` is an unwanted row, so each is looked at once.
    if (!wanted[static_cast<std::size_t>(now_.nonbasic[q])]) continue;
    int best = -1;
    double size = 1e-9;
    for (std::size_t i = 0; i < now_.basic.size(); ++i) {
      if (wanted[static_cast<std::size_t>(now_.basic[i])]) continue;
      if (std::fabs(row(i)[q]) <= size) continue;
      size = std::fabs(row(i)[q]);
      best = static_cast<int>(i);
    }
    if (best < 0) return false;
    exchange(static_cast<std::size_t>(best), q);
  }
  now_.pivots = 0;
  for (std::size_t j = 0; j < now_.nonbasic.size(); ++j)
    now_.side[j] = side[static_cast<std::size_t>(now_.nonbasic[j])];
  set_sides();
  set_values();
  price();
  return true;
}

bool Pivoting::rebuild() {
  std::vector<signed char> side(static_cast<std::size_t>(program_->variables()), 1);
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j)
    side[static_cast<std::size_t>(shown_->nonbasic[j])] = shown_->side[j];
  const std::vector<double> cost(cost_.begin(), cost_.begin() + program_->columns);
  const std::vector<int> basic = shown_->basic;
  return build(basic, side, *bounds_, cost);
}

std::uint64_t Pivoting::basis_key() const {
  std::uint64_t key = 0;
  for (const int v : shown_->basic) key ^= program_->key[static_cast<std::size_t>(v)];
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j)
    if (shown_->side[j] < 0)
      key ^= program_->key[static_cast<std::size_t>(program_->variables()) +
                           static_cast<std::size_t>(shown_->nonbasic[j])];
  return key;
}

void Pivoting::values(std::vector<double>& x) const {
  x.assign(static_cast<std::size_t>(program_->columns), 0.0);
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j)
    if (shown_->nonbasic[j] < program_->columns)
      x[static_cast<std::size_t>(shown_->nonbasic[j])] = bound_of(j);
  for (std::size_t i = 0; i < shown_->basic.size(); ++i)
    if (shown_->basic[i] < program_->columns) {
      const auto v = static_cast<std::size_t>(shown_->basic[i]);
      x[v] = std::clamp(shown_->value[i], bounds_->lower[v], bounds_->upper[v]) + 0.0;
    }
}

std::vector<double> Pivoting::duals() const {
  std::vector<double> y(static_cast<std::size_t>(program_->rows), 0.0);
  // Rows are scaled to 1, so a dual this small is nothing beside any cost: what rounding left.
  const double nothing = 1e-13 * cost_scale_;
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j) {
    if (shown_->nonbasic[j] < program_->columns || std::fabs(reduced_[j]) <= nothing) continue;
    const auto i = static_cast<std::size_t>(shown_->nonbasic[j] - program_->columns);
    y[i] = reduced_[j] / program_->row_scale[i];
  }
  return y;
}

std::vector<double> Pivoting::row_multipliers(int p) const {
  std::vector<double> y(static_cast<std::size_t>(program_->rows), 0.0);
  const auto set = [&](int v, double entry) {
    if (v < program_->columns) return;
    const auto i = static_cast<std::size_t>(v - program_->columns);
    y[i] = entry / program_->row_scale[i];
  };
  set(shown_->basic[static_cast<std::size_t>(p)], 1);
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j)
    set(shown_->nonbasic[j], row(static_cast<std::size_t>(p))[j]);
  return y;
}

bool Pivoting::agrees_with_rows() const {
  std::vector<double> rest(static_cast<std::size_t>(program_->stride), 0.0);
  price_out(program_->probe, rest);
  for (std::size_t j = 0; j < shown_->nonbasic.size(); ++j) {
    double size = std::fabs(program_->probe[static_cast<std::size_t>(shown_->nonbasic[j])]);
    for (std::size_t i = 0; i < shown_->basic.size(); ++i)
      size = std::max(
          size, std::fabs(program_->probe[static_cast<std::size_t>(shown_->basic[i])] * row(i)[j]));
    if (std::fabs(rest[j]) > 1e-11 * std::max(1.0, size)) return false;
  }
  return true;
}

}  // namespace leastwise::analysis
