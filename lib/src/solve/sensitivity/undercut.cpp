#include "solve/sensitivity/undercut.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "solve/sensitivity/moving_model.hpp"
#include "solver/branch_program.hpp"
#include "solver/branching.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

using solver::SearchResult;
using solver::SearchStatus;

/// Programs after which the search is given up; most take a few dozen.
constexpr int most_programs_on_the_way = 5000;

/// The roots of q0 + q1 s + q2 s^2, the nearer to zero first.
std::vector<double> roots(double q0, double q1, double q2) {
  if (q2 == 0) return q1 == 0 ? std::vector<double>{} : std::vector{-q0 / q1};
  const double square = q1 * q1 - 4 * q0 * q2;
  if (square < 0) return {};
  const double sum = -(q1 + std::copysign(std::sqrt(square), q1)) / 2;
  std::vector<double> both{sum / q2};
  if (sum != 0) both.push_back(q0 / sum);
  std::sort(both.begin(), both.end(),
            [](double a, double b) { return std::fabs(a) < std::fabs(b); });
  return both;
}

class UndercutSearch {
 public:
  UndercutSearch(const model::Model& model, std::size_t r, const CostCurve& own, double first,
                 double last, double tolerance, const solver::SearchOptions& options)
      : branching_(model),
        moving_(model, options),
        r_(r),
        own_(own),
        direction_(last < first ? -1 : 1),
        first_(first),
        last_(last),
        tolerance_(tolerance),
        options_(options) {
    if (options.leaves.empty()) open_.push_back({{}, first});
    for (const auto& leaf : options.leaves) open_.push_back({leaf.path, first});
  }

  Undercut run() {
    while (!open_.empty() && !given_up_ && !found_) {
      const Part part = std::move(open_.back());
      open_.pop_back();
      follow(part);
    }
    return {found_ || !given_up_, found_};
  }

 private:
  /// A branch, and the limit up to which it is settled.
  struct Part {
    std::vector<solver::Decision> path{};
    double from = 0;
  };

  [[nodiscard]] bool beyond(double a, double b) const { return direction_ * (a - b) > 0; }
  [[nodiscard]] bool may_go_on() {
    return !options_.stop.stop_requested() && ++programs_ <= most_programs_on_the_way;
  }

  /// Follows one branch until it is settled up to the last limit, or is divided.
  void follow(const Part& part) {
    std::optional<solver::BranchProgram> branch;
    for (double limit = part.from; !beyond(limit, last_);) {
      if (!may_go_on()) {
        given_up_ = true;
        return;
      }
      const auto& changed = moving_.at(r_, limit);
      if (!branch) branch.emplace(changed, part.path, options_);
      const auto here = branch->solve();
      std::optional<double> settled;
      if (here.status == SearchStatus::infeasible) {
        if (here.y.empty()) return;  // its decisions contradict each other, whatever the limit
        settled = end_of_shortfall(changed, here, part);
      } else if (here.status != SearchStatus::optimal) {
        given_up_ = true;
        return;
      } else if (here.cost < own_(limit) - tolerance_) {
        const auto choice = branching_.branch(here.x, part.path);
        if (!choice) {
          found_ = limit;
          return;
        }
        for (const auto& decision : {choice->second, choice->first}) {
          open_.push_back({part.path, limit});
          open_.back().path.push_back(decision);
        }
        return;
      } else {
        settled = end_of_dearness(changed, here, part);
      }
      if (!settled) {
        given_up_ = true;
        return;
      }
      if (!beyond(last_, *settled)) return;
      limit = *settled + direction_ * 1e-6 * std::max(std::fabs(*settled), std::fabs(first_));
    }
  }

  /// Follows the bases of a program from where the model is, up to the last limit, until `settles`
  /// says of a stretch where it ends the matter. Returns: how far that is settled; nothing: not at
  /// all.
  template <class Settles>
  [[nodiscard]] std::optional<double> walk_on(const model::Model& changed, const Part& part,
                                              const SearchResult& here, Settles settles) {
    BasisProgram program(here);
    LimitWalk walk(program, moving_bounds(changed, r_, part.path), changed.rules[r_].limit,
                   direction_, options_);
    std::optional<double> settled;
    while (may_go_on()) {
      const auto stretch = walk.next();
      if (!stretch) return settled;
      const double end = beyond(stretch->end, last_) ? last_ : stretch->end;
      if (const std::optional<double> stop = settles(stretch->curve, end)) return stop;
      settled = end;
      if (!beyond(last_, end)) return settled;
    }
    return std::nullopt;
  }

  /// The limit up to which the branch stays without a blend: its rows would have to give way, by
  /// an amount that is followed until it is gone.
  [[nodiscard]] std::optional<double> end_of_shortfall(const model::Model& changed,
                                                       const SearchResult& here, const Part& part) {
    SearchResult measure;
    measure.leaf = solver::elastic(here.leaf);
    solver::LpSolver program(measure.leaf);
    if (program.solve(options_.deadline) != solver::LinearStatus::optimal) return std::nullopt;
    if (program.cost() <= 0) return std::nullopt;  // smaller than what doubles can show
    for (int j = 0; j < measure.leaf.columns; ++j)
      measure.column_standing.push_back(program.column_standing(j));
    for (int i = 0; i < measure.leaf.rows; ++i)
      measure.row_standing.push_back(program.row_standing(i));
    const double gone = 1e-9 * program.cost();
    return walk_on(changed, part, measure,
                   [&](const CostCurve& shortfall, double end) -> std::optional<double> {
                     if (shortfall.cost <= gone) return shortfall.at;
                     const double zero =
                         shortfall.at -
                         shortfall.cost / (shortfall.cost * shortfall.curve + shortfall.price);
                     if (beyond(zero, shortfall.at) && beyond(end, zero)) return zero;
                     return std::nullopt;
                   });
  }

  /// The limit up to which the branch, dearer than `own` where the model is, stays so.
  [[nodiscard]] std::optional<double> end_of_dearness(const model::Model& changed,
                                                      const SearchResult& here, const Part& part) {
    return walk_on(changed, part, here,
                   [&](const CostCurve& curve, double end) -> std::optional<double> {
                     double from = curve.at;
                     for (const double to : crossings(curve, end)) {
                       if (own_((from + to) / 2) - tolerance_ > curve((from + to) / 2)) return from;
                       from = to;
                     }
                     return std::nullopt;
                   });
  }

  /// The limits on the way to `end` at which own - other - tolerance may change its sign, and `end`
  /// itself, in order: once both denominators are multiplied out, the roots of a quadratic.
  [[nodiscard]] std::vector<double> crossings(const CostCurve& other, double end) const {
    const double d = other.at - own_.at;
    const double a = 1 + own_.curve * d;
    const double n0 = own_.cost * a + own_.price * d;
    const double n1 = own_.cost * own_.curve + own_.price;
    const double m0 = other.cost + tolerance_;
    const double m1 = m0 * other.curve + other.price;
    std::vector<double> limits;
    for (const double s : roots(n0 - m0 * a, n1 + n0 * other.curve - m1 * a - m0 * own_.curve,
                                n1 * other.curve - m1 * own_.curve))
      if (beyond(other.at + s, other.at) && beyond(end, other.at + s))
        limits.push_back(other.at + s);
    limits.push_back(end);
    return limits;
  }

  solver::Branching branching_;
  MovingModel moving_;
  std::size_t r_;
  CostCurve own_;
  int direction_;
  double first_;
  double last_;
  double tolerance_;
  const solver::SearchOptions& options_;
  std::vector<Part> open_{};
  int programs_ = 0;
  bool given_up_ = false;
  std::optional<double> found_{};
};

}  // namespace

Undercut find_undercut(const model::Model& model, std::size_t r, const CostCurve& own, double first,
                       double last, double tolerance, const solver::SearchOptions& options) {
  return UndercutSearch(model, r, own, first, last, tolerance, options).run();
}

}  // namespace leastwise::solve
