#include "exact/tableau.hpp"

#include <limits>
#include <utility>

namespace leastwise::exact {

namespace {
constexpr std::size_t none = std::numeric_limits<std::size_t>::max();

/// Where the least variable stands of those in a place that qualifies; `none` without one.
template <class Qualifies>
std::size_t least_of(const std::vector<std::size_t>& variables, Qualifies qualifies) {
  std::size_t found = none;
  for (std::size_t k = 0; k < variables.size(); ++k)
    if ((found == none || variables[k] < variables[found]) && qualifies(k)) found = k;
  return found;
}

}  // namespace

Tableau::Tableau(const std::vector<std::vector<Integer>>& matrix, const std::vector<Integer>& limit,
                 const std::vector<Integer>& cost)
    : rows_(matrix.size()), columns_(cost.size()), width_(cost.size() + 1) {
  cells_.reserve((rows_ + 1) * width_);
  for (std::size_t i = 0; i < rows_; ++i) {
    cells_.insert(cells_.end(), matrix[i].begin(), matrix[i].end());
    cells_.push_back(-limit[i]);
    basic_.push_back(columns_ + i);
  }
  cells_.insert(cells_.end(), cost.begin(), cost.end());
  cells_.emplace_back(0);
  for (std::size_t j = 0; j < columns_; ++j) nonbasic_.push_back(j);
}

/// What an exchange makes of another row than that of its head.
void Tableau::eliminate(std::size_t i, std::size_t row, std::size_t column) {
  const Integer& head = at(row, column);
  const bool negative = head < 0;
  const Integer factor = at(i, column);
  for (std::size_t k = 0; k < width_; ++k) {
    if (k == column) continue;
    Integer& cell = at(i, k);
    const Integer& above = at(row, k);
    if (cell == 0 && (factor == 0 || above == 0)) continue;
    cell *= head;
    if (factor != 0 && above != 0) cell -= factor * above;
    if (denominator_ != 1) cell /= denominator_;
    if (negative) cell = -cell;
  }
  if (negative) at(i, column) = -factor;
}

/// Exchanges the variables of a row and a column. Row `i` reads
/// basic = (sum cell x nonbasic + constant) / denominator.
void Tableau::pivot(std::size_t row, std::size_t column) {
  const Integer head = at(row, column);
  const bool negative = head < 0;
  for (std::size_t i = 0; i <= rows_; ++i)
    if (i != row) eliminate(i, row, column);
  for (std::size_t k = 0; k < width_; ++k) {
    if (k == column)
      at(row, k) = negative ? Integer(-denominator_) : denominator_;
    else if (!negative)
      at(row, k) = -at(row, k);
  }
  denominator_ = negative ? Integer(-head) : head;
  std::swap(basic_[row], nonbasic_[column]);
  ++pivots_;
}

void Tableau::crash(const std::vector<char>& rows, const std::vector<char>& columns,
                    const base::StopCheck& stop_check) {
  for (;;) {
    stop_check();
    // The pivot that fills in least: fewest other entries among what is still to be exchanged.
    std::vector<std::size_t> in_row(rows_, 0);
    std::vector<std::size_t> in_column(columns_, 0);
    const auto open = [&](std::size_t i, std::size_t k) {
      return basic_[i] >= columns_ && rows[basic_[i] - columns_] != 0 && nonbasic_[k] < columns_ &&
             columns[nonbasic_[k]] != 0 && at(i, k) != 0;
    };
    for (std::size_t i = 0; i < rows_; ++i)
      for (std::size_t k = 0; k < columns_; ++k)
        if (open(i, k)) {
          ++in_row[i];
          ++in_column[k];
        }
    std::size_t best = none;
    std::pair<std::size_t, std::size_t> where;
    for (std::size_t i = 0; i < rows_; ++i)
      for (std::size_t k = 0; k < columns_; ++k)
        if (open(i, k) && (in_row[i] - 1) * (in_column[k] - 1) < best) {
          best = (in_row[i] - 1) * (in_column[k] - 1);
          where = {i, k};
        }
    if (best == none) return;
    pivot(where.first, where.second);
  }
}

Tableau::Status Tableau::solve(const base::StopCheck& stop_check) {
  for (;;) {
    stop_check();
    const std::size_t row = least_of(basic_, [&](std::size_t i) { return at(i, columns_) < 0; });
    const std::size_t column = least_of(nonbasic_, [&](std::size_t k) { return at(rows_, k) < 0; });
    if (row == none && column == none) return status_ = Status::optimal;
    if (column == none || (row != none && basic_[row] < nonbasic_[column])) {
      stuck_ = row;
      const std::size_t in = least_of(nonbasic_, [&](std::size_t k) { return at(row, k) > 0; });
      if (in == none) return status_ = Status::infeasible;
      pivot(row, in);
    } else {
      stuck_ = column;
      const std::size_t out = least_of(basic_, [&](std::size_t i) { return at(i, column) < 0; });
      if (out == none) return status_ = Status::unbounded;
      pivot(out, column);
    }
  }
}

std::vector<Integer> Tableau::values() const {
  std::vector<Integer> values(columns_, 0);
  for (std::size_t i = 0; i < rows_; ++i)
    if (basic_[i] < columns_) values[basic_[i]] = at(i, columns_);
  return values;
}

std::vector<Integer> Tableau::multipliers() const {
  std::vector<Integer> multipliers(rows_, 0);
  if (status_ == Status::unbounded) return multipliers;  // what is stuck is a column then
  const bool optimal = status_ == Status::optimal;
  const std::size_t line = optimal ? rows_ : stuck_;
  for (std::size_t k = 0; k < columns_; ++k)
    if (nonbasic_[k] >= columns_)
      multipliers[nonbasic_[k] - columns_] = optimal ? at(line, k) : Integer(-at(line, k));
  if (!optimal && basic_[stuck_] >= columns_) multipliers[basic_[stuck_] - columns_] = denominator_;
  return multipliers;
}

std::vector<Integer> Tableau::ray() const {
  std::vector<Integer> ray(columns_, 0);
  if (nonbasic_[stuck_] < columns_) ray[nonbasic_[stuck_]] = denominator_;
  for (std::size_t i = 0; i < rows_; ++i)
    if (basic_[i] < columns_) ray[basic_[i]] = at(i, stuck_);
  return ray;
}

std::vector<char> Tableau::basic_columns() const {
  std::vector<char> basic(columns_, 0);
  for (const std::size_t variable : basic_)
    if (variable < columns_) basic[variable] = 1;
  return basic;
}

std::vector<char> Tableau::tight_rows() const {
  std::vector<char> tight(rows_, 0);
  for (const std::size_t variable : nonbasic_)
    if (variable >= columns_) tight[variable - columns_] = 1;
  return tight;
}

}  // namespace leastwise::exact
