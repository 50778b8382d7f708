#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "solver/dense_tableau.hpp"
#include "solver/linear_program.hpp"
#include "solver/scaled_program.hpp"

namespace leastwise::solver {

/// How a run of the dense kernel ended.
enum class DenseOutcome {
  optimal,
  dearer,      ///< nothing is cheaper than the cutoff: the duals that `read` gives bound the cost
  infeasible,  ///< `multipliers` contradict the rows
  time_limit,
  gave_up,  ///< it is for another to say
};

/// How one variable follows a parameter: its bounds, and the coefficients of its row.
struct Motion {
  std::size_t variable = 0;  ///< columns first, then rows
  double lower_rate = 0;     ///< of its bounds, a unit of the parameter; in the caller's units
  double upper_rate = 0;
  std::span<const model::Entry> drift{};  ///< of the coefficients
};

/// Where a basis stops being optimal while a parameter moves.
struct Breakpoint {
  enum class Kind {
    none,          ///< nowhere
    bound,         ///< the basic variable of row `index` comes to a bound
    reduced_cost,  ///< the reduced cost of the nonbasic of column `index` comes to zero
    unknown,       ///< it moves in a way that is not followed
  };
  Kind kind = Kind::none;
  double change = 0;  ///< of the parameter, in its direction
  double curve = 0;   ///< the cost is c + p t / (1 + curve t) after a change t
  std::size_t index = 0;
  bool below = false;  ///< the bound is the lower one
};

/// Bounds and a basis of a small linear program, with its tableau and its values: as plain data, to
/// come back to.
struct DenseState {
  DenseTableau tableau;
  std::vector<double> lower{};  ///< of each variable, scaled
  std::vector<double> upper{};
  std::vector<char> at_upper{};     ///< by variable: the bound it is at, or was last
  std::vector<double> at{};         ///< value of each nonbasic
  std::vector<double> direction{};  ///< by nonbasic: 1 may rise, -1 may fall, 0 fixed, 2 free
  std::vector<double> value{};      ///< of each basic
};

/// A small linear program kept ready to be solved again and again: the bounded dual simplex on a
/// dense tableau, with Harris's ratio test and bound flips.
///
/// Every reduced cost always has the sign its bound wants: a variable whose wanted bound is
/// infinite starts at an artificial one, far out, and the run gives up if one is still there in the
/// end. What rounding has done to the tableau is undone where it matters: an optimum is measured
/// against the rows, and a contradiction against the bounds, and where either fails the tableau is
/// built anew.
class DenseSimplex {
 public:
  explicit DenseSimplex(const LinearProgram& data);

  /// Bounds of variable `v`, columns first, then rows; in the caller's units.
  void set_bounds(std::size_t v, double lower, double upper);

  /// Ends as soon as no feasible point can cost less than `cutoff`.
  [[nodiscard]] DenseOutcome solve(const base::Deadline& deadline, double cutoff);

  /// Other costs of the columns, in the caller's units. The basis stays as it is: `improve` or
  /// `solve` makes it the best at them.
  void set_costs(std::span<const double> cost);
  /// Primal simplex from a feasible basis, as far as it gets; `solve` then settles the rest.
  void improve();
  /// What the present basis costs, in the caller's units.
  [[nodiscard]] double cost() const { return bound() * program_.cost_unit(); }

  /// The present state, to come back to.
  [[nodiscard]] const DenseState& state() const { return now_; }
  /// Goes to a state of this program, at the present costs.
  void stand_at(const DenseState& state);
  /// Whether no other basis is cheaper than that of a feasible `state` at the present costs.
  [[nodiscard]] bool is_best(const DenseState& state);
  /// Whether the present basis shows that nothing can cost less than `cost`.
  [[nodiscard]] bool proves(double cost) const;
  /// Sees to it that the tableau agrees with the program's rows. Returns: false when it cannot.
  [[nodiscard]] bool make_sound();

  /// Where the present optimal basis ends as a parameter moves in `direction`, 1 or -1.
  [[nodiscard]] Breakpoint next_breakpoint(std::span<const Motion> motions, double direction);
  enum class Turn {
    taken,
    impossible,  ///< nothing is feasible beyond
    stuck,
  };
  /// At a breakpoint, with everything moved there: to the basis that is optimal beyond.
  [[nodiscard]] Turn turn(const Breakpoint& at);
  /// Multipliers of the caller's rows that add up to row `p` of the tableau, or to its negative:
  /// past a breakpoint beyond which nothing is feasible they contradict the rows.
  [[nodiscard]] std::vector<double> multipliers_of(std::size_t p) const;
  /// Other coefficients in row `i`, of the same columns; the basis stays.
  void set_row(std::size_t i, std::span<const model::Entry> entries);
  /// Takes the basis as it is, every nonbasic at the bound that it is said to be at, after bounds
  /// or rows have moved.
  void keep_basis();
  [[nodiscard]] bool is_basic(std::size_t v) const { return now_.tableau.is_basic(v); }
  [[nodiscard]] std::size_t basic(std::size_t p) const { return now_.tableau.basic(p); }
  /// Makes the present values what `read` gives.
  void take_values();

  /// After `optimal`, or `dearer` as far as the duals: the columns' values and the rows' duals,
  /// improved by what they miss in the program's own rows; in the caller's units.
  void read(std::vector<double>& x, std::vector<double>& y) const;
  /// After `infeasible`: a multiplier for each of the caller's rows.
  [[nodiscard]] std::vector<double> multipliers() const;

  [[nodiscard]] WarmStart warm_start() const;
  /// A basis of the same rows and columns; one that is none to working precision is let go.
  void set_warm_start(const WarmStart& start);

 private:
  /// In scaled costs.
  static constexpr double wrong_reduced_cost = 1e-11;
  /// What is smaller is no pivot, in scaled rows.
  static constexpr double pivot_tolerance = 1e-9;
  /// A basic variable outside its bounds.
  struct Broken {
    std::size_t p = 0;
    double miss = 0;
    bool below = false;
  };
  enum class Step { taken, impossible, stuck };
  struct Flow;
  class FirstEnd;
  struct Ends {
    double low = 0;
    double high = 0;
  };
  enum class Outcome { settled, renewed, stuck };

  void place();
  void place(std::size_t q);
  void set_values();
  [[nodiscard]] std::optional<Broken> most_broken() const;
  [[nodiscard]] Step relieve(Broken broken);
  [[nodiscard]] std::optional<std::size_t> entering(const Broken& broken) const;
  [[nodiscard]] std::optional<std::size_t> cheapening() const;
  [[nodiscard]] bool step(std::size_t q);
  void flip(std::size_t q);
  void pivot(const Broken& broken, std::size_t q);
  [[nodiscard]] double bound() const;
  [[nodiscard]] bool turn_wrong_sides();
  [[nodiscard]] Outcome settle();
  [[nodiscard]] bool contradiction(std::size_t p);
  void part_bounds(const Motion& motion);
  [[nodiscard]] double along(const std::vector<double>& weights) const;
  [[nodiscard]] Flow flow_of(std::span<const Motion> motions, double direction) const;
  [[nodiscard]] Ends ends_of_moving(const Motion& motion, const Flow& flow, double direction) const;
  void add_ends_of_values(std::span<const Motion> motions, const Flow& flow, double direction,
                          FirstEnd& first) const;
  void add_ends_of_reduced_costs(const Flow& flow, FirstEnd& first) const;
  [[nodiscard]] bool renew();
  [[nodiscard]] bool is_artificial(std::size_t q) const;

  ScaledProgram program_;
  DenseState now_;
  std::vector<double> settled_{};  ///< of each variable, in the optimum
  std::vector<double> multipliers_{};
  std::vector<double> priced_{};  ///< reduced costs of a state that was asked about
};

}  // namespace leastwise::solver
