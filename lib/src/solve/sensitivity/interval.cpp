#include "solve/sensitivity/interval.hpp"

#include <algorithm>
#include <cmath>

#include "solve/sensitivity/limit_column.hpp"
#include "solve/sensitivity/undercut.hpp"
#include "solver/branch_program.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;
using model::Model;
using solver::SearchResult;
using solver::SearchStatus;

/// Two prices closer than this, relative, are one price.
constexpr double same_price = 1e-6;
/// Times that another branch may dip below, before that is given up.
constexpr int most_dips = 200;

bool same(double a, double b) {
  return std::fabs(a - b) <= same_price * std::max({std::fabs(a), std::fabs(b), 1e-9});
}

/// Whether the cost goes on from one stretch to the next as if there were no end between them.
bool goes_on(const LimitWalk::Stretch& here, const LimitWalk::Stretch& after) {
  const double size = std::max(std::fabs(here.end), std::fabs(here.curve.at));
  return same(here.curve.price_at(here.end), after.curve.price) &&
         std::fabs(here.curve.curve_at(here.end) - after.curve.curve) * size <= same_price;
}

double tolerance_of(double cost) { return 1e-9 * std::max(1.0, std::fabs(cost)); }

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

/// Follows `walk` while the price stays the same. Returns: nothing when that was not found out, or
/// when there is nothing to follow.
std::optional<Reach> follow_price(LimitWalk& walk) {
  auto here = walk.next();
  if (!here) return std::nullopt;
  const CostCurve curve = here->curve;
  for (;;) {
    if (walk.ending() == LimitWalk::Ending::for_good) return Reach{curve, here->end};
    const auto after = walk.next();
    if (!after && walk.ending() != LimitWalk::Ending::no_blend) return std::nullopt;
    if (!after || !goes_on(*here, *after)) return Reach{curve, here->end};
    here = after;
  }
}

/// Where, from its beginning on, `curve` comes to cost `cost`; nothing: nowhere in that direction.
std::optional<double> where_it_costs(const CostCurve& curve, double cost, int direction) {
  const double missing = cost - curve.cost;
  const double change = missing / (curve.price - missing * curve.curve);
  if (!std::isfinite(change) || change * direction < 0) return std::nullopt;
  return curve.at + change;
}

/// The same of a program without either-or rules, beside a blend outside it that costs
/// `alternative`, whatever the limit.
Side follow_program(LimitWalk& walk, double limit, int direction, double price,
                    double alternative) {
  auto here = walk.next();
  if (!here) {
    if (walk.ending() != LimitWalk::Ending::no_blend) return {};
    return {limit, std::isfinite(alternative) ? Known(0.0) : Known<double>::none()};
  }
  Side side{{}, price};
  if (!same(here->curve.price, price)) return {limit, here->curve.price};
  for (;;) {
    if (std::isfinite(alternative)) {
      const auto dear = where_it_costs(here->curve, alternative, direction);
      if (dear && direction * (here->end - *dear) >= 0) {
        if (std::fabs(*dear - limit) <= 1e-9 * std::max(std::fabs(limit), 1e-3))
          return {limit, 0.0};
        side.end = *dear;
        return side;
      }
    }
    if (walk.ending() == LimitWalk::Ending::for_good) {
      side.end = Known<double>::none();
      return side;
    }
    const auto after = walk.next();
    if (!after && walk.ending() != LimitWalk::Ending::no_blend) return side;
    if (!after || !goes_on(*here, *after)) {
      side.end = here->end;
      return side;
    }
    here = after;
  }
}

/// Every either-or rule decided as `blend` decides it, so that whatever is possible in the branch
/// obeys them all.
std::vector<solver::Decision> decided_as(const Model& model, const SearchResult& blend) {
  using Kind = solver::Decision::Kind;
  auto path = blend.path;
  const auto used = [&](int j) { return blend.x[static_cast<std::size_t>(j)] > 0; };
  const auto family_used = [&](int f) {
    const auto& columns = model.families[static_cast<std::size_t>(f)];
    return std::any_of(columns.begin(), columns.end(), used);
  };
  for (const auto& apart : model.apart) {
    if (!apart.active) continue;
    path.push_back(
        {Kind::family_out, family_used(apart.family_a) ? apart.family_b : apart.family_a});
  }
  for (const auto& minimum : model.minima)
    if (minimum.active)
      path.push_back({used(minimum.column) ? Kind::column_on : Kind::column_out, minimum.column});
  if (model.bins)
    for (int j = 0; j < static_cast<int>(model.is_granule.size()); ++j)
      if (model.is_granule[static_cast<std::size_t>(j)] && !used(j))
        path.push_back({Kind::column_out, j});
  return path;
}

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
  [[nodiscard]] std::optional<Reach> reach_of_branch(const SearchResult& near);
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
  [[nodiscard]] double price_at(double limit, const SearchResult& solution) {
    return shadow_price(moving_.at(r_, limit), r_, solution);
  }

  MovingModel& moving_;
  const Model& model_;  ///< with every limit where it was
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

/// How far the price of the branch that is best beside the limit goes in it.
std::optional<Reach> BranchWalk::reach_of_branch(const SearchResult& near) {
  const auto& beside_model = moving_.at(r_, beside());
  const auto path = decided_as(model_, near);
  const auto own = solver::BranchProgram(beside_model, path, options_).solve();
  if (own.status != SearchStatus::optimal) return std::nullopt;
  BasisProgram program(own);
  LimitWalk walk(program, moving_bounds(beside_model, r_, path), beside(), direction_, options_);
  return follow_price(walk);
}

/// What another branch saves at `limit`, and how fast that saving grows with the limit.
std::optional<BranchWalk::Saving> BranchWalk::saving_of_other_branch(double limit) {
  const double own = own_(limit);
  if (own > alternative_ + tolerance_of(own))
    return Saving{own - alternative_, own_.price_at(limit)};
  auto cheaper_only = options_;
  cheaper_only.cutoff = own - tolerance_of(own);
  const auto other = solver::search(moving_.at(r_, limit), cheaper_only);
  if (other.status == SearchStatus::infeasible) return std::nullopt;
  if (other.status != SearchStatus::optimal) return lost();
  return Saving{own - other.cost, own_.price_at(limit) - price_at(limit, other)};
}

/// A limit up to `last` at which another branch is cheaper than the own one. Where the own cost
/// runs straight the limit is a column of one more solve, so none is missed; for rules whose rows
/// drift that would be no linear program.
std::optional<double> BranchWalk::cheaper_within(double last) {
  const double first = own_.at;
  if (!beyond(last, first)) return std::nullopt;
  const double tolerance = tolerance_of(own_.cost);
  if (own_(last) > alternative_ + tolerance) return last;
  if (!model_.rules[r_].coefficient_derivatives.empty()) {
    const auto undercut = find_undercut(model_, r_, own_, first, last, tolerance, options_);
    if (!undercut.settled) return lost();
    return undercut.limit;
  }
  std::vector<std::size_t> rules{r_};
  if (model_.rules[r_].paired_rule >= 0)
    rules.push_back(static_cast<std::size_t>(model_.rules[r_].paired_rule));
  auto anywhere = with_limit_column(model_, rules, {std::min(first, last), std::max(first, last)});
  anywhere.cost.back() = -own_.price;
  auto cheaper_only = options_;
  cheaper_only.cutoff = own_(0) - tolerance;
  cheaper_only.leaves = {};  // they are of a program without that column
  const auto found = solver::search(anywhere, cheaper_only);
  if (found.status == SearchStatus::infeasible) return std::nullopt;
  if (found.status != SearchStatus::optimal) return lost();
  return found.x.back();
}

/// Where, between the limit and `outside`, the branch that wins at `outside` starts to win. Newton
/// steps come from outside; where the last one lands inside, the other branch's cost is a straight
/// line up to the crossing, or else the rest is halved.
double BranchWalk::crossing_before(double outside) {
  double inside = limit_;
  auto saving = saving_of_other_branch(outside);
  for (int step = 0; saving && step < 30; ++step) {
    const double next = outside - saving->amount / saving->rate;
    if (!std::isfinite(next) || !beyond(outside, next) || !beyond(next, inside)) break;
    const auto there = saving_of_other_branch(next);
    if (!there) {
      inside = next;
      const double just_outside = next + direction_ * nudge_;
      if (!beyond(outside, just_outside) || saving_of_other_branch(just_outside)) return next;
      break;
    }
    outside = next;
    saving = there;
  }
  while (std::fabs(outside - inside) > 1e-9 * std::max(std::fabs(outside), nudge_)) {
    const double middle = (inside + outside) / 2;
    if (middle == inside || middle == outside) break;
    (saving_of_other_branch(middle) ? outside : inside) = middle;
  }
  return inside;
}

/// Pulls `end` back to where another branch of the either-or rules starts to be cheaper.
double BranchWalk::shorten_by_other_branches(double end) {
  double last = std::isfinite(end) ? end - direction_ * nudge_ / 2 : far();
  for (int dip = 0; dip < most_dips; ++dip) {
    const auto outside = cheaper_within(last);
    if (!outside) break;
    const double inside = crossing_before(*outside);
    if (!beyond(last, inside)) break;
    end = last = inside;
  }
  return end;
}

Side BranchWalk::follow() {
  const auto near = solver::search(moving_.at(r_, beside()), options_);
  if (near.status == SearchStatus::infeasible ||
      (near.status == SearchStatus::optimal && near.cost > alternative_))
    return {limit_, std::isfinite(alternative_) ? Known(0.0) : Known<double>::none()};
  if (near.status != SearchStatus::optimal) return {};
  const double price_near = price_at(beside(), near);
  if (std::fabs(price_near - price_) >
      1e-5 * std::max({std::fabs(price_near), std::fabs(price_), 1e-9}))
    return {limit_, price_near};
  Side side{{}, price_};  // a drifting rule's price has moved a little over the nudge
  const auto reach = reach_of_branch(near);
  if (!reach || !same(reach->curve.price, price_near)) return side;
  own_ = reach->curve;
  const double end = shorten_by_other_branches(reach->end);
  if (end_is_certain_) side.end = std::isfinite(end) ? Known(end) : Known<double>::none();
  return side;
}

}  // namespace

PriceInterval PriceIntervals::of(std::size_t r, double price, double alternative) {
  const auto& model = moving_.original();
  const double limit = model.rules[r].limit;
  const auto side = [&](int direction) {
    if (model.either_or()) return BranchWalk(moving_, r, price, direction, alternative).follow();
    if (!program_) program_.emplace(solution_);
    LimitWalk walk(*program_, moving_bounds(model, r, {}), limit, direction, moving_.options());
    return follow_program(walk, limit, direction, price, alternative);
  };
  const Side below = side(-1);
  const Side above = side(1);
  // Ends within rounding of zero or of the limit itself are those numbers.
  const auto tidy = [&](const Known<double>& end) -> Known<double> {
    if (!end) return end;
    const double size = limit == 0 ? 1e-3 : std::fabs(limit);
    if (*end <= 1e-9 * size) return 0.0;  // no limit lies below zero
    return std::fabs(*end - limit) <= 1e-9 * size ? limit : *end;
  };
  PriceInterval interval{tidy(below.end), tidy(above.end), below.price_next, above.price_next, {}};
  if (below.price_next.is_computed() && above.price_next.is_computed())
    interval.unique = below.price_next && above.price_next && same(*below.price_next, price) &&
                      same(*above.price_next, price);
  return interval;
}

PriceInterval minimum_interval(const model::Model& model, std::size_t k, double price,
                               const solver::SearchOptions& options) {
  const auto minimum = model.minima[k];
  Model held = model;  // the material is in, so its minimum is a plain share
  held.minima[k].active = false;
  model::Rule share{RuleKind::share, RuleSide::min, minimum.material, minimum.percent};
  share.row = minimum.row;
  if (minimum.row >= 0) {
    share.coefficient_derivatives = {{model.total_column, -0.01}};
  } else {
    share.column = minimum.column;
    share.rhs_derivative = 10;
  }
  held.rules.push_back(share);
  model::refresh_bounds(held);
  Model left_out = model;
  left_out.rules.push_back(
      {RuleKind::share, RuleSide::max, minimum.material, 0, -1, minimum.column, 10});
  model::refresh_bounds(left_out);
  const auto without = solver::search(left_out, options);
  if (without.status != SearchStatus::optimal && without.status != SearchStatus::infeasible)
    return {};
  solver::SearchResult solution;
  if (!held.either_or()) {
    solution = solver::search(held, options);
    if (solution.status != SearchStatus::optimal) return {};
  }
  return PriceIntervals(held, solution, options)
      .of(held.rules.size() - 1, price,
          without.status == SearchStatus::optimal ? without.cost : infinity);
}

}  // namespace leastwise::solve
