#include "solve/sensitivity/branch_walk.hpp"

#include "solve/sensitivity/limit_column.hpp"
#include "solve/sensitivity/undercut.hpp"
#include "solve/shadow_price.hpp"
#include "solver/branch_program.hpp"

namespace leastwise::solve {
namespace {

using model::Model;
using solver::SearchResult;
using solver::SearchStatus;

/// Times that another branch may dip below, before that is given up.
constexpr int most_dips = 200;

double tolerance_of(double cost) { return 1e-9 * std::max(1.0, std::fabs(cost)); }

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
  const auto in_bins = [&](int family) {
    return model.bins || std::ranges::any_of(model.joined_bins, [&](const model::BinLimit& bins) {
             return bins.active && bins.first_family <= family && family < bins.end_family;
           });
  };
  for (std::size_t j = 0; j < model.is_granule.size(); ++j)
    if (model.is_granule[j] && !used(static_cast<int>(j)) && in_bins(model.family_of[j]))
      path.push_back({Kind::column_out, static_cast<int>(j)});
  return path;
}

}  // namespace

bool goes_on(const LimitWalk::Stretch& here, const LimitWalk::Stretch& after) {
  const double size = std::max(std::fabs(here.end), std::fabs(here.curve.at));
  return same_prices(here.curve.price_at(here.end), after.curve.price) &&
         std::fabs(here.curve.curve_at(here.end) - after.curve.curve) * size <= same_price;
}

double BranchWalk::price_at(double limit, const SearchResult& solution) {
  return shadow_price(moving_.at(r_, limit), r_, solution);
}

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
  if (!reach || !same_prices(reach->curve.price, price_near)) return side;
  own_ = reach->curve;
  const double end = shorten_by_other_branches(reach->end);
  if (end_is_certain_) side.end = std::isfinite(end) ? Known(end) : Known<double>::none();
  return side;
}

}  // namespace leastwise::solve
