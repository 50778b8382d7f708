#include "exact/working_set.hpp"

#include <algorithm>
#include <utility>

namespace leastwise::exact {
namespace {

/// How many offended rows or columns join at a time.
constexpr std::size_t joining = 12;

/// About log2 of a positive number.
double magnitude(const Integer& value) {
  if (value <= 0) return 0;
  const auto top = static_cast<unsigned>(msb(value));
  const unsigned shift = top > 52 ? top - 52 : 0;
  return static_cast<double>(top) +
         Integer(value >> shift).convert_to<double>() / static_cast<double>(1ULL << (top - shift));
}

/// Who is offended, and how badly.
using Offended = std::vector<std::pair<double, std::size_t>>;

class WorkingSet {
 public:
  WorkingSet(const WholeProgram& program, const Scope& scope, Objective objective, Guess guess,
             const base::StopCheck& stop_check)
      : program_(program),
        scope_(scope),
        objective_(objective),
        guess_(std::move(guess)),
        stop_check_(stop_check) {
    guess_.rows.resize(program.rows.size(), 0);
    guess_.columns.resize(program.cost.size(), 0);
    for (std::size_t r = 0; r < program.rows.size(); ++r)
      if (guess_.rows[r] && scope.holds[r]) rows_.push_back(r);
    for (std::size_t j = 0; j < program.cost.size(); ++j)
      if (guess_.columns[j] && !scope.out[j]) columns_.push_back(j);
  }

  ExactSolution solve() {
    for (;;) {
      stop_check_();
      Tableau tableau = small_program();
      tableau.crash(picked(guess_.rows, rows_), picked(guess_.columns, columns_), stop_check_);
      const auto status = tableau.solve(stop_check_);
      remember_basis(tableau);
      ExactSolution solution = spread(tableau, status);
      Offended rows;
      Offended columns;
      if (status == Tableau::Status::optimal)
        rows = offended_rows(solution.values, solution.denominator);
      if (status == Tableau::Status::unbounded)
        rows = offended_rows(spread(tableau.ray(), columns_, program_.cost.size()), 0);
      if (status != Tableau::Status::unbounded) columns = offended_columns(solution);
      if (rows.empty() && columns.empty()) {
        solution.basis = guess_;
        return solution;
      }
      join(rows, rows_);
      join(columns, columns_);
    }
  }

 private:
  [[nodiscard]] Tableau small_program() const {
    std::vector<std::size_t> position(program_.cost.size(), columns_.size());
    std::vector<Integer> cost;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      position[columns_[k]] = k;
      cost.push_back(objective_ == Objective::cost ? program_.cost[columns_[k]] : Integer(0));
    }
    std::vector<std::vector<Integer>> matrix;
    std::vector<Integer> limit;
    for (const std::size_t r : rows_) {
      matrix.emplace_back(columns_.size(), 0);
      for (const auto& [j, value] : program_.rows[r].entries)
        if (position[j] < columns_.size()) matrix.back()[position[j]] = value;
      limit.push_back(program_.rows[r].limit);
    }
    return Tableau(matrix, limit, cost);
  }

  static std::vector<char> picked(const std::vector<char>& all,
                                  const std::vector<std::size_t>& which) {
    std::vector<char> some;
    for (const std::size_t k : which) some.push_back(all[k]);
    return some;
  }
  static std::vector<Integer> spread(const std::vector<Integer>& some,
                                     const std::vector<std::size_t>& which, std::size_t size) {
    std::vector<Integer> all(size, 0);
    for (std::size_t k = 0; k < which.size(); ++k) all[which[k]] = some[k];
    return all;
  }
  [[nodiscard]] ExactSolution spread(const Tableau& tableau, Tableau::Status status) const {
    return {status,
            tableau.denominator(),
            spread(tableau.values(), columns_, program_.cost.size()),
            spread(tableau.multipliers(), rows_, program_.rows.size()),
            {}};
  }
  void remember_basis(const Tableau& tableau) {
    std::fill(guess_.rows.begin(), guess_.rows.end(), 0);
    std::fill(guess_.columns.begin(), guess_.columns.end(), 0);
    const auto tight = tableau.tight_rows();
    const auto basic = tableau.basic_columns();
    for (std::size_t k = 0; k < rows_.size(); ++k) guess_.rows[rows_[k]] = tight[k];
    for (std::size_t k = 0; k < columns_.size(); ++k) guess_.columns[columns_[k]] = basic[k];
  }

  /// Rows outside that `values` over `denominator` break; with 0 for it, a direction.
  [[nodiscard]] Offended offended_rows(const std::vector<Integer>& values,
                                       const Integer& denominator) const {
    std::vector<char> inside(program_.rows.size(), 0);
    for (const std::size_t r : rows_) inside[r] = 1;
    Offended offended;
    for (std::size_t r = 0; r < program_.rows.size(); ++r) {
      if (inside[r] || !scope_.holds[r]) continue;
      Integer missing = program_.rows[r].limit * denominator;
      Integer largest = 1;
      for (const auto& [j, value] : program_.rows[r].entries) {
        if (values[j] != 0) missing -= value * values[j];
        largest = std::max(largest, Integer(abs(value)));
      }
      if (missing > 0) offended.emplace_back(magnitude(missing) - magnitude(largest), r);
    }
    return offended;
  }

  /// Columns outside that would make the solution cheaper, or loosen the contradiction.
  [[nodiscard]] Offended offended_columns(const ExactSolution& solution) const {
    const bool priced =
        objective_ == Objective::cost && solution.status == Tableau::Status::optimal;
    std::vector<Integer> worth(program_.cost.size(), 0);
    for (const std::size_t r : rows_) {
      if (solution.multipliers[r] == 0) continue;
      for (const auto& [j, value] : program_.rows[r].entries)
        worth[j] += solution.multipliers[r] * value;
    }
    for (const std::size_t j : columns_) worth[j] = 0;
    Offended offended;
    for (std::size_t j = 0; j < worth.size(); ++j) {
      if (scope_.out[j] || std::binary_search(columns_.begin(), columns_.end(), j)) continue;
      const Integer surplus =
          priced ? Integer(worth[j] - program_.cost[j] * solution.denominator) : worth[j];
      if (surplus > 0)
        offended.emplace_back(magnitude(surplus) - magnitude(program_.column_scale[j]), j);
    }
    return offended;
  }

  static void join(Offended& offended, std::vector<std::size_t>& members) {
    std::sort(offended.begin(), offended.end(), [](const auto& a, const auto& b) {
      return a.first != b.first ? a.first > b.first : a.second < b.second;
    });
    if (offended.size() > joining) offended.resize(joining);
    for (const auto& one : offended) members.push_back(one.second);
    std::sort(members.begin(), members.end());
  }

  const WholeProgram& program_;
  const Scope& scope_;
  Objective objective_;
  Guess guess_;
  const base::StopCheck& stop_check_;
  std::vector<std::size_t> rows_{};
  std::vector<std::size_t> columns_{};
};

}  // namespace

ExactSolution solve_exactly(const WholeProgram& program, const Scope& scope, Objective objective,
                            Guess guess, const base::StopCheck& stop_check) {
  return WorkingSet(program, scope, objective, std::move(guess), stop_check).solve();
}

}  // namespace leastwise::exact
