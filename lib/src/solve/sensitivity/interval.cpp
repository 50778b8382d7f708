#include "solve/sensitivity/interval.hpp"

#include <algorithm>
#include <cmath>

#include "solve/sensitivity/basis_step.hpp"
#include "solve/sensitivity/limit_column.hpp"
#include "solve/sensitivity/undercut.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;
using model::Model;
using solver::SearchResult;
using solver::SearchStatus;

/// Two prices closer than this, relative, are one price.
constexpr double same_price = 1e-6;
/// Bases visited before a walk is given up; degenerate vertices need a handful.
constexpr int most_steps = 200;

bool same(double a, double b) {
  return std::fabs(a - b) <= same_price * std::max({std::fabs(a), std::fabs(b), 1e-9});
}

/// The rule's own price in a solution. A rule whose row is no longer held costs nothing.
double price_of(const Model& model, std::size_t r, const SearchResult& solution) {
  return shadow_price(model, r, solution);
}

/// What a walk in one direction found.
struct Side {
  Known<double> end{};         ///< limit up to which the price holds; none: no end
  Known<double> price_next{};  ///< one-sided price at the starting limit; none: no blend
};

/// Follows one rule's limit in one direction.
class Walk {
 public:
  Walk(MovingModel& moving, std::size_t r, double price, int direction)
      : moving_(moving),
        model_(moving.original()),
        r_(r),
        price_(price),
        options_(moving.options()),
        direction_(direction),
        limit_(model_.rules[r].limit),
        straight_(model_.rules[r].coefficient_derivatives.empty()),
        nudge_(1e-6 * (limit_ == 0 ? 0.1 : std::fabs(limit_))) {}

  Side follow();
  /// A blend outside the model costs this, whatever the limit.
  void set_alternative(double cost) { alternative_ = cost; }

 private:
  struct Saving {
    double amount = 0;
    double rate = 0;
  };
  [[nodiscard]] double follow_branch(SearchResult here, double limit);
  [[nodiscard]] std::optional<SearchResult> solve_path(double limit);
  [[nodiscard]] std::optional<Saving> saving_of_other_branch(double limit);
  [[nodiscard]] std::optional<double> cheaper_within(const SearchResult& near, double last);
  [[nodiscard]] std::optional<double> cheaper_while_drifting(const SearchResult& near, double last);
  [[nodiscard]] double crossing_before(double outside);
  [[nodiscard]] double shorten_by_other_branches(const SearchResult& near, double end);
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

  [[nodiscard]] const Model& at(double limit) { return moving_.at(r_, limit); }
  [[nodiscard]] double price_at(double limit, const SearchResult& solution) {
    return price_of(at(limit), r_, solution);
  }

  MovingModel& moving_;
  const Model& model_;  ///< with every limit where it was
  std::size_t r_;
  double price_;
  const solver::SearchOptions& options_;
  int direction_;
  double limit_;
  bool straight_;  ///< within one basis the cost is linear in the limit
  double nudge_;
  double alternative_ = infinity;
  bool end_is_certain_ = true;  ///< false once a limit or rounding kept a step from being proved
  /// The branch that is best just beyond the limit, every either-or rule decided.
  std::optional<solver::BranchProgram> branch_{};
};

/// Every either-or rule decided as `blend` decides it, so that whatever is possible in the branch
/// obeys them all, and the branch's cost is convex in the limit.
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

/// Returns: nothing where the branch has no blend, or where that was not found out.
std::optional<SearchResult> Walk::solve_path(double limit) {
  (void)at(limit);
  auto found = branch_ ? branch_->solve() : moving_.solve_whole();
  if (found.status == SearchStatus::optimal) return found;
  if (found.status != SearchStatus::infeasible) return lost();
  return std::nullopt;
}

/// Walks along the optimal bases of one branch while the price stays the same.
double Walk::follow_branch(SearchResult here, double limit) {
  for (int step = 0; step < most_steps; ++step) {
    const auto reach = basis_step(at(limit), r_, here);
    if (!reach) break;
    const double price_here = price_at(limit, here);
    const double change = direction_ > 0 ? reach->up : reach->down;
    if (!std::isfinite(change)) return direction_ * infinity;
    const double end = limit + change;
    const double next = end + direction_ * nudge_;
    const auto after = solve_path(next);
    if (!after) return end;
    const double old_price = price_here / std::pow(1 + reach->curve * change, 2);
    if (!same(old_price, price_at(next, *after))) return end;
    limit = next;
    here = *after;
  }
  lost();
  return limit;
}

/// What another branch saves at `limit`, and how fast that saving grows with the limit.
std::optional<Walk::Saving> Walk::saving_of_other_branch(double limit) {
  const auto own = solve_path(limit);
  if (!own) return Saving{infinity, 0};  // the branch itself has no blend there
  if (own->cost > alternative_ + 1e-9 * std::max(1.0, std::fabs(own->cost)))
    return Saving{own->cost - alternative_, price_at(limit, *own)};
  auto cheaper_only = options_;
  cheaper_only.cutoff = own->cost - 1e-9 * std::max(1.0, std::fabs(own->cost));
  const auto other = solver::search(at(limit), cheaper_only);
  if (other.status == SearchStatus::infeasible) return std::nullopt;
  if (other.status != SearchStatus::optimal) return lost();
  return Saving{own->cost - other.cost, price_at(limit, *own) - price_at(limit, other)};
}

/// A limit up to `last` at which another branch is cheaper than the own one, whose cost runs
/// straight from `near`: the limit is a column of one more solve, so none is missed. For rules
/// whose rows drift that would be no linear program.
std::optional<double> Walk::cheaper_within(const SearchResult& near, double last) {
  if (!straight_) return cheaper_while_drifting(near, last);
  const double first = limit_ + direction_ * nudge_;
  if (!beyond(last, first)) return std::nullopt;
  const double slope = price_at(first, near);
  const auto own = [&](double limit) { return near.cost + slope * (limit - first); };
  const double tolerance = 1e-9 * std::max(1.0, std::fabs(near.cost));
  if (own(last) > alternative_ + tolerance) return last;
  if (!model_.either_or()) return std::nullopt;
  std::vector<std::size_t> rules{r_};
  if (model_.rules[r_].paired_rule >= 0)
    rules.push_back(static_cast<std::size_t>(model_.rules[r_].paired_rule));
  auto anywhere = with_limit_column(model_, rules, {std::min(first, last), std::max(first, last)});
  anywhere.cost.back() = -slope;
  auto cheaper_only = options_;
  cheaper_only.cutoff = own(0) - tolerance;
  cheaper_only.leaves = {};  // they are of a program without that column
  const auto found = solver::search(anywhere, cheaper_only);
  if (found.status == SearchStatus::infeasible) return std::nullopt;
  if (found.status != SearchStatus::optimal) return lost();
  return found.x.back();
}

/// The same where the own cost runs along a curve.
std::optional<double> Walk::cheaper_while_drifting(const SearchResult& near, double last) {
  const double first = limit_ + direction_ * nudge_;
  if (!beyond(last, first)) return std::nullopt;
  const auto reach = basis_step(at(first), r_, near);
  if (!reach) return lost();
  const CostCurve own{first, near.cost, price_at(first, near), reach->curve};
  const double tolerance = 1e-9 * std::max(1.0, std::fabs(near.cost));
  if (own(last) > alternative_ + tolerance) return last;
  if (!model_.either_or()) return std::nullopt;
  const auto undercut = find_undercut(model_, r_, own, first, last, tolerance, options_);
  if (!undercut.settled) return lost();
  return undercut.limit;
}

/// Where, between the limit and `outside`, the branch that wins at `outside` starts to win. Newton
/// steps come from outside; where the last one lands inside, the other branch's cost is a straight
/// line up to the crossing, or else the rest is halved.
double Walk::crossing_before(double outside) {
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
double Walk::shorten_by_other_branches(const SearchResult& near, double end) {
  double last = std::isfinite(end) ? end - direction_ * nudge_ / 2 : far();
  for (int dip = 0; dip < most_steps; ++dip) {
    const auto outside = cheaper_within(near, last);
    if (!outside) break;
    const double inside = crossing_before(*outside);
    if (!beyond(last, inside)) break;
    end = last = inside;
  }
  return end;
}

Side Walk::follow() {
  const double next = limit_ + direction_ * nudge_;
  const bool either_or = model_.either_or();
  (void)at(next);
  const auto near = either_or ? solver::search(moving_.now(), options_) : moving_.solve_whole();
  if (near.status == SearchStatus::infeasible ||
      (near.status == SearchStatus::optimal && near.cost > alternative_))
    return {limit_, std::isfinite(alternative_) ? Known(0.0) : Known<double>::none()};
  if (near.status != SearchStatus::optimal) return {};
  const double price_near = price_at(next, near);
  if (std::fabs(price_near - price_) >
      1e-5 * std::max({std::fabs(price_near), std::fabs(price_), 1e-9}))
    return {limit_, price_near};
  Side side{{}, price_};  // a drifting rule's price has moved a little over the nudge
  if (either_or) branch_.emplace(moving_.now(), decided_as(model_, near), options_);
  const auto own = either_or ? solve_path(next) : near;  // else the branch is all there is
  if (!own || !same(price_at(next, *own), price_near)) return side;
  double end = follow_branch(*own, next);
  if (end_is_certain_ && (either_or || std::isfinite(alternative_)))
    end = shorten_by_other_branches(*own, end);
  if (end_is_certain_) side.end = std::isfinite(end) ? Known(end) : Known<double>::none();
  return side;
}

}  // namespace

namespace {

PriceInterval joined(MovingModel& moving, std::size_t r, double price, double alternative) {
  Walk down(moving, r, price, -1);
  Walk up(moving, r, price, 1);
  down.set_alternative(alternative);
  up.set_alternative(alternative);
  const Side below = down.follow();
  const Side above = up.follow();
  // Ends within rounding of zero or of the limit itself are those numbers.
  const double limit = moving.original().rules[r].limit;
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

}  // namespace

PriceInterval price_interval(MovingModel& moving, std::size_t r,
                             const solver::SearchResult& solution) {
  return joined(moving, r, price_of(moving.original(), r, solution), infinity);
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
  MovingModel moving(held, options);
  return joined(moving, held.rules.size() - 1, price,
                without.status == SearchStatus::optimal ? without.cost : infinity);
}

}  // namespace leastwise::solve
