#pragma once
#include <leastwise/known.hpp>

#include <algorithm>
#include <cmath>
#include <optional>

#include "solve/sensitivity/limit_walk.hpp"
#include "solve/sensitivity/moving_model.hpp"

namespace leastwise::solve {

/// Two prices closer than this, relative, are one price.
inline constexpr double same_price = 1e-6;
[[nodiscard]] inline bool same_prices(double a, double b) {
  return std::fabs(a - b) <= same_price * std::max({std::fabs(a), std::fabs(b), 1e-9});
}

/// Whether the cost goes on from one stretch to the next as if there were no end between them.
[[nodiscard]] bool goes_on(const LimitWalk::Stretch& here, const LimitWalk::Stretch& after);

/// What following a limit in one direction found.
struct Side {
  Known<double> end{};         ///< limit up to which the price holds; none: no end
  Known<double> price_next{};  ///< one-sided price at the starting limit; none: no blend
};

/// How far one price goes.
struct Reach {
  CostCurve curve{};  ///< what the program costs on the way
  double end = 0;     ///< infinite: no end
};

/// Follows one limit in one direction under either-or rules: along the program of the branch that
/// is best just beyond the limit, as far as no other is cheaper.
class BranchWalk {
 public:
  BranchWalk(MovingModel& moving, std::size_t r, double price, int direction, double alternative)
      : moving_(moving),
        model_(moving.original()),
        r_(r),
        price_(price),
        options_(moving.options()),
        direction_(direction),
        limit_(model_.rules[r].limit),
        nudge_(1e-6 * (limit_ == 0 ? 0.1 : std::fabs(limit_))),
        alternative_(alternative) {}

  Side follow();

 private:
  struct Saving {
    double amount = 0;
    double rate = 0;
  };
  [[nodiscard]] std::optional<Reach> reach_of_branch(const solver::SearchResult& near);
  [[nodiscard]] std::optional<Saving> saving_of_other_branch(double limit);
  [[nodiscard]] std::optional<double> cheaper_within(double last);
  [[nodiscard]] double crossing_before(double outside);
  [[nodiscard]] double shorten_by_other_branches(double end);
  /// The end is not certain any more, whatever is returned.
  std::nullopt_t lost() {
    end_is_certain_ = false;
    return std::nullopt;
  }
  [[nodiscard]] bool beyond(double a, double b) const { return direction_ * (a - b) > 0; }
  /// Where a walk without an end is looked at.
  [[nodiscard]] double far() const {
    return limit_ + direction_ * 1000 * std::max(1.0, std::fabs(limit_));
  }
  [[nodiscard]] double beside() const { return limit_ + direction_ * nudge_; }
  [[nodiscard]] double price_at(double limit, const solver::SearchResult& solution);

  MovingModel& moving_;
  const model::Model& model_;  ///< with every limit where it was
  std::size_t r_;
  double price_;
  const solver::SearchOptions& options_;
  int direction_;
  double limit_;
  double nudge_;
  double alternative_;          ///< a blend outside the model costs this, whatever the limit
  CostCurve own_{};             ///< what the branch costs, as far as it is followed
  bool end_is_certain_ = true;  ///< false once a limit or rounding kept a step from being proved
};

}  // namespace leastwise::solve
