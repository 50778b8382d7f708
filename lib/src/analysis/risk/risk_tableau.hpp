#pragma once
#include <cstddef>
#include <cstdint>
#include <vector>

#include "solver/linear_program.hpp"

namespace leastwise::analysis {

/// A small linear program held densely: minimise c.x subject to A x - r = 0 with bounds on x (the
/// columns) and on r (the rows' activities, each row scaled by its largest magnitude). Variables
/// are numbered columns first, then rows.
struct DenseProgram {
  explicit DenseProgram(const solver::LinearData& data);

  int rows = 0;
  int columns = 0;
  int stride = 0;                   ///< columns rounded up, so that loops need no rest
  std::vector<double> a{};          ///< by row, `stride` apart, scaled
  std::vector<double> row_scale{};  ///< what each row was divided by
  /// No feasible point has a variable outside these, whatever the costs; may be infinite.
  std::vector<double> least{};
  std::vector<double> most{};
  /// A fixed random weight of each row, multiplied into each variable's column: checks a tableau.
  std::vector<double> probe{};
  std::vector<std::uint64_t> key{};  ///< a random word for each variable as basic, then at upper

  [[nodiscard]] int variables() const { return rows + columns; }
  /// About what a tableau takes.
  [[nodiscard]] std::size_t bytes_of_tableau() const { return 8 * a.size() + 512; }
};

/// Bounds of the variables of a DenseProgram in one branch of the search.
struct VariableBounds {
  std::vector<double> lower{};
  std::vector<double> upper{};
};

[[nodiscard]] VariableBounds variable_bounds(const DenseProgram& program,
                                             const solver::LinearData& data);

/// A basis with its tableau: basic = -(entries) * nonbasic, since the right-hand sides are zero.
struct Tableau {
  std::vector<int> basic{};         ///< by row
  std::vector<int> nonbasic{};      ///< by column
  std::vector<signed char> side{};  ///< of each nonbasic: 1 at lower, -1 at upper, 0 fixed
  std::vector<double> entries{};    ///< `stride` apart
  std::vector<double> value{};      ///< of each basic variable
  int pivots = 0;                   ///< since it was built from the rows

  friend bool operator==(const Tableau&, const Tableau&) = default;
};

enum class PivotOutcome {
  optimal,
  beaten,      ///< nothing in this branch is cheaper than the cutoff
  infeasible,  ///< dual simplex: row `broken_row` cannot reach its bound
  stalled,     ///< no progress within the allowed pivots
};

/// Works on one tableau: prices it out and pivots it to optimality. Known bases stay as they are: a
/// copy is made before the first pivot.
class Pivoting {
 public:
  explicit Pivoting(const DenseProgram& program);
  Pivoting(const Pivoting& other) : Pivoting(*other.program_) {}
  Pivoting(Pivoting&&) = delete;
  Pivoting& operator=(const Pivoting&) = delete;
  Pivoting& operator=(Pivoting&&) = delete;
  ~Pivoting() = default;

  /// Starts from `tableau`, which like `bounds` must outlive the work on it; costs are `cost`, one
  /// for each column.
  void load(const Tableau& tableau, const VariableBounds& bounds, const std::vector<double>& cost);
  /// The tableau of the basis in which all rows are basic, with columns at their lower bounds.
  void load_rows(const VariableBounds& bounds, const std::vector<double>& cost);
  /// The same basis under other bounds, each no wider than before.
  void tighten(const VariableBounds& bounds);
  /// Builds the tableau of the present basis afresh from the rows. Returns: false if singular.
  [[nodiscard]] bool rebuild();
  /// Brings a basis about: `basic` holds the wanted basic variables, `side` the bound of every
  /// variable. Returns: false if singular.
  [[nodiscard]] bool build(const std::vector<int>& basic, const std::vector<signed char>& side,
                           const VariableBounds& bounds, const std::vector<double>& cost);

  /// Primal simplex from a feasible basis.
  [[nodiscard]] PivotOutcome primal(double cutoff);
  /// Dual simplex from a dual feasible basis.
  [[nodiscard]] PivotOutcome dual();

  [[nodiscard]] const Tableau& tableau() const { return *shown_; }
  [[nodiscard]] int broken_row() const { return broken_row_; }
  [[nodiscard]] double objective();
  /// True while the basis is still the one that was loaded.
  [[nodiscard]] bool untouched() const { return shown_ != &now_; }
  [[nodiscard]] std::uint64_t basis_key() const;
  /// The columns' values.
  void values(std::vector<double>& x) const;
  /// Duals of the rows, in the units of the unscaled rows.
  [[nodiscard]] std::vector<double> duals() const;
  /// Multipliers of the unscaled rows that make up tableau row `p`.
  [[nodiscard]] std::vector<double> row_multipliers(int p) const;
  /// True when the tableau agrees with the program's own rows.
  [[nodiscard]] bool agrees_with_rows() const;

 private:
  void own();
  void price();
  void price_out(const std::vector<double>& cost, std::vector<double>& reduced) const;
  [[nodiscard]] double bound_of(std::size_t j) const;
  [[nodiscard]] double proved_bound(double tolerance);
  void set_sides();
  void set_values();
  [[nodiscard]] int entering(double tolerance) const;
  [[nodiscard]] bool step(int q);
  [[nodiscard]] int leaving() const;
  [[nodiscard]] int entering_for(std::size_t p, bool below) const;
  void dual_step(std::size_t p, std::size_t q, bool below);
  void exchange(std::size_t p, std::size_t q);
  [[nodiscard]] const double* row(std::size_t i) const {
    return shown_->entries.data() + i * static_cast<std::size_t>(program_->stride);
  }

  const DenseProgram* program_;
  const VariableBounds* bounds_ = nullptr;
  Tableau now_{};                  ///< the copy that is worked on
  const Tableau* shown_ = &now_;   ///< that copy, or the known basis while nothing has changed
  std::vector<double> cost_{};     ///< of every variable; zero for rows
  std::vector<double> reduced_{};  ///< of each nonbasic
  std::vector<double> column_{};   ///< the entering column, while pivoting
  double cost_scale_ = 1;
  double objective_ = 0;
  bool objective_known_ = false;
  int broken_row_ = -1;
};

}  // namespace leastwise::analysis
