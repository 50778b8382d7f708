#include "solver/exact_solve.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "exact/working_set.hpp"

namespace leastwise::solver {
namespace {

using exact::ExactSolution;
using exact::Integer;
using exact::Objective;
using exact::Rational;
using exact::Tableau;
using exact::WholeRow;

/// A sum of fractions of whose numbers a row of whole numbers is made.
using Terms = std::vector<std::pair<std::size_t, Rational>>;

/// One side of a row of the data, or the upper bound of a column.
struct Side {
  std::size_t index = 0;
  bool of_row = false;
  bool is_maximum = false;
  Rational scale{};  ///< whole row = scale x row
};

/// The data over u >= 0, where x = lower + u.
class WholeData {
 public:
  explicit WholeData(const LinearProgram& data) : data_(data) {
    const auto rows = static_cast<std::size_t>(data.rows);
    const auto columns = static_cast<std::size_t>(data.columns);
    for (std::size_t j = 0; j < columns; ++j) lower_.emplace_back(data.lower[j]);
    for (std::size_t i = 0; i < rows; ++i) add_row(i);
    for (std::size_t j = 0; j < columns; ++j) add_upper_bound(j);
    Integer times = 1;
    for (const double cost : data.cost)
      times = std::max(times, Integer(denominator(Rational(cost))));
    for (const double cost : data.cost)
      program_.cost.push_back(numerator(Rational(Rational(cost) * times)));
    program_.column_scale.assign(columns, 1);
    cost_scale_ = times;
    scope_.holds.assign(program_.rows.size(), 1);
    for (std::size_t j = 0; j < columns; ++j) scope_.out.push_back(data.lower[j] == data.upper[j]);
  }

  [[nodiscard]] ExactSolution solve(const Basis& start, Objective objective,
                                    const base::StopCheck& stop_check) const {
    return solve_exactly(program_, scope_, objective, guess(start), stop_check);
  }

  /// Whether the rows times their multipliers ask for what no u can give, added up once more.
  [[nodiscard]] bool is_contradiction(const ExactSolution& solution) const {
    std::vector<Integer> sum(lower_.size(), 0);
    Integer asked = 0;
    for (std::size_t r = 0; r < program_.rows.size(); ++r) {
      const Integer& weight = solution.multipliers[r];
      if (weight < 0) return false;
      if (weight == 0) continue;
      asked += weight * program_.rows[r].limit;
      for (const auto& [j, value] : program_.rows[r].entries) sum[j] += weight * value;
    }
    for (std::size_t j = 0; j < sum.size(); ++j)
      if (!scope_.out[j] && sum[j] > 0) return false;
    return asked > 0;
  }

  void read_values(const ExactSolution& solution, ExactEnd& end) const {
    for (std::size_t j = 0; j < lower_.size(); ++j)
      end.x.push_back(Rational(lower_[j] + Rational(solution.values[j], solution.denominator))
                          .convert_to<double>());
  }
  void read_multipliers(const ExactSolution& solution, ExactEnd& end) const {
    std::vector<Rational> y(static_cast<std::size_t>(data_.rows), 0);
    const bool optimal = solution.status == Tableau::Status::optimal;
    Integer below = optimal ? Integer(solution.denominator * cost_scale_) : Integer(1);
    if (!optimal)
      for (const auto& weight : solution.multipliers) below = std::max(below, weight);
    for (std::size_t r = 0; r < sides_.size(); ++r) {
      if (!sides_[r].of_row || solution.multipliers[r] == 0) continue;
      const Rational weight = sides_[r].scale * Rational(solution.multipliers[r], below);
      y[sides_[r].index] += sides_[r].is_maximum ? Rational(-weight) : weight;
    }
    for (const auto& weight : y) end.y.push_back(weight.convert_to<double>());
  }
  void read_basis(const ExactSolution& solution, ExactEnd& end) const {
    auto& [columns, rows] = end.basis;
    rows.assign(static_cast<std::size_t>(data_.rows), BasisStatus::basic);
    for (std::size_t j = 0; j < lower_.size(); ++j)
      columns.push_back(scope_.out[j]               ? BasisStatus::fixed
                        : solution.basis.columns[j] ? BasisStatus::basic
                                                    : BasisStatus::at_lower);
    for (std::size_t r = 0; r < sides_.size(); ++r)
      if (solution.basis.rows[r])
        (sides_[r].of_row ? rows : columns)[sides_[r].index] =
            sides_[r].is_maximum ? BasisStatus::at_upper : BasisStatus::at_lower;
  }

 private:
  void add_row(std::size_t i) {
    Terms terms;
    Rational at_lower = 0;
    for (int e = data_.row_start[i]; e < data_.row_start[i + 1]; ++e) {
      const auto& entry = data_.entries[static_cast<std::size_t>(e)];
      const auto j = static_cast<std::size_t>(entry.column);
      terms.emplace_back(j, Rational(entry.value));
      at_lower += terms.back().second * lower_[j];
    }
    if (std::isfinite(data_.row_lower[i]))
      add({i, true, false, 1}, terms, Rational(data_.row_lower[i]) - at_lower);
    for (auto& [j, value] : terms) value = -value;
    if (std::isfinite(data_.row_upper[i]))
      add({i, true, true, 1}, terms, at_lower - Rational(data_.row_upper[i]));
  }
  void add_upper_bound(std::size_t j) {
    if (!std::isfinite(data_.upper[j]) || data_.lower[j] == data_.upper[j]) return;
    add({j, false, true, 1}, {{j, Rational(-1)}}, lower_[j] - Rational(data_.upper[j]));
  }
  void add(Side side, const Terms& terms, const Rational& limit) {
    // Every denominator is a power of two: the largest is common to all.
    Integer times = denominator(limit);
    for (const auto& [j, value] : terms) times = std::max(times, Integer(denominator(value)));
    WholeRow row;
    row.limit = numerator(Rational(limit * times));
    for (const auto& [j, value] : terms)
      row.entries.emplace_back(j, numerator(Rational(value * times)));
    side.scale = times;
    program_.rows.push_back(std::move(row));
    sides_.push_back(std::move(side));
  }

  [[nodiscard]] exact::Guess guess(const Basis& start) const {
    exact::Guess guess{std::vector<char>(sides_.size(), 0), std::vector<char>(lower_.size(), 0)};
    if (start.columns.size() != lower_.size()) return guess;
    for (std::size_t j = 0; j < lower_.size(); ++j)
      guess.columns[j] =
          start.columns[j] == BasisStatus::basic || start.columns[j] == BasisStatus::at_upper;
    for (std::size_t r = 0; r < sides_.size(); ++r) {
      const auto& side = sides_[r];
      const auto standing = (side.of_row ? start.rows : start.columns)[side.index];
      guess.rows[r] =
          standing == (side.is_maximum ? BasisStatus::at_upper : BasisStatus::at_lower) ||
          (side.of_row && !side.is_maximum && standing == BasisStatus::fixed);
    }
    return guess;
  }

  const LinearProgram& data_;
  std::vector<Rational> lower_{};
  exact::WholeProgram program_{};
  exact::Scope scope_{};
  std::vector<Side> sides_{};  ///< along the rows of the program
  Integer cost_scale_ = 1;
};

}  // namespace

ExactEnd solve_without_rounding(const LinearProgram& data, const Basis& start,
                                const base::StopCheck& stop_check) {
  ExactEnd end;
  if (!std::ranges::all_of(data.lower, [](double bound) { return std::isfinite(bound); }))
    return end;
  const WholeData whole(data);
  auto solution = whole.solve(start, Objective::cost, stop_check);
  if (solution.status == Tableau::Status::unbounded) {  // the cost of nothing that is possible?
    solution = whole.solve(start, Objective::nothing, stop_check);
    if (solution.status != Tableau::Status::infeasible) return end;
  }
  whole.read_multipliers(solution, end);
  if (solution.status == Tableau::Status::infeasible) {
    if (whole.is_contradiction(solution)) end.status = LinearStatus::infeasible;
    return end;
  }
  end.status = LinearStatus::optimal;
  whole.read_values(solution, end);
  whole.read_basis(solution, end);
  return end;
}

}  // namespace leastwise::solver
