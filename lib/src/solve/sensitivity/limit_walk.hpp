#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "solve/sensitivity/moving_bound.hpp"
#include "solver/dense_simplex.hpp"
#include "solver/search.hpp"

namespace leastwise::solve {

/// What a blend costs while a limit moves and its basis stays: `cost + price t / (1 + curve t)` at
/// the limit `at + t`.
struct CostCurve {
  double at = 0;
  double cost = 0;
  double price = 0;
  double curve = 0;  ///< 0 unless coefficients move with the limit

  [[nodiscard]] double operator()(double limit) const {
    const double t = limit - at;
    return cost + price * t / (1 + curve * t);
  }
  /// What one unit more of the limit costs there.
  [[nodiscard]] double price_at(double limit) const {
    const double rest = 1 + curve * (limit - at);
    return price / (rest * rest);
  }
  /// `curve`, seen from there.
  [[nodiscard]] double curve_at(double limit) const { return curve / (1 + curve * (limit - at)); }
};

/// The linear program of a solution, at its optimal basis, to walk from.
class BasisProgram {
 public:
  explicit BasisProgram(const solver::SearchResult& solution);

 private:
  friend class LimitWalk;

  solver::LinearProgram data_;
  solver::DenseSimplex simplex_;
  std::optional<solver::DenseState> state_{};
};

/// Follows the optimal bases of a linear program while one limit moves in one direction: each
/// stretch over which one basis stays optimal, in order.
///
/// A stretch ends where a ratio test says so, in closed form: where a basic variable comes to its
/// bound, and of a row that drifts where a reduced cost comes to zero. Nothing is sampled. Cost and
/// price at both ends of each are recomputed from the program's own numbers.
class LimitWalk {
 public:
  struct Stretch {
    CostCurve curve{};
    double end = 0;  ///< the limit up to which it holds; infinite: for good
  };
  enum class Ending {
    open,      ///< there may be more
    for_good,  ///< the last stretch has no end
    no_blend,  ///< beyond the last stretch there is none: proved
    unknown,   ///< interrupted, or lost to rounding
  };

  /// `program` is at the basis of `limit`; it is put back when the walk ends. All must outlive it.
  LimitWalk(BasisProgram& program, std::vector<MovingBound> bounds, double limit, int direction,
            const solver::SearchOptions& options);
  LimitWalk(const LimitWalk&) = delete;
  LimitWalk& operator=(const LimitWalk&) = delete;
  LimitWalk(LimitWalk&&) = delete;
  LimitWalk& operator=(LimitWalk&&) = delete;
  ~LimitWalk();

  /// The next stretch; none: see `ending`.
  [[nodiscard]] std::optional<Stretch> next();
  [[nodiscard]] Ending ending() const { return ending_; }
  /// The best x at the end of the last stretch, or, of one without an end, at its beginning.
  [[nodiscard]] const std::vector<double>& x() const { return x_; }

 private:
  /// What a bound was when the walk began.
  struct Before {
    double lower = 0;
    double upper = 0;
    std::vector<model::Entry> entries{};  ///< of a row that drifts
  };

  [[nodiscard]] std::size_t variable(const MovingBound& bound) const;
  [[nodiscard]] double after(double change) const;
  void lay(double limit);
  void go_to(double limit);
  [[nodiscard]] bool verify();
  [[nodiscard]] bool recover();
  [[nodiscard]] double price() const;
  [[nodiscard]] bool is_impossible_beyond(std::size_t p);
  [[nodiscard]] bool drifts_into_contradiction(std::size_t p);
  [[nodiscard]] bool is_impossible_exactly() const;
  [[nodiscard]] bool contradict(std::vector<double> y) const;
  void turn();
  [[nodiscard]] solver::Breakpoint ahead(bool& crossing);
  [[nodiscard]] bool ends_well(const Stretch& stretch);
  std::optional<Stretch> finish(Ending ending) {
    ending_ = ending;
    return std::nullopt;
  }

  BasisProgram& program_;
  std::vector<MovingBound> bounds_;
  std::vector<Before> before_{};
  double first_;  ///< the limit where the walk began
  double limit_;  ///< where it is
  int direction_;
  double size_;
  const solver::SearchOptions& options_;
  Ending ending_ = Ending::open;
  std::optional<solver::Breakpoint> pending_{};  ///< where the present basis ends, if it ends here
  bool crossing_ = false;                        ///< whether the bounds cross beyond
  bool recovered_ = false;
  int bases_ = 0;
  std::vector<double> x_{};
  std::vector<double> y_{};
  double cost_ = 0;
  double scale_ = 0;  ///< the largest cost so far
};

}  // namespace leastwise::solve
