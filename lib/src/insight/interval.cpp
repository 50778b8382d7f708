#include "insight/interval.hpp"

#include <algorithm>
#include <cmath>

namespace leastwise::insight {
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

Model at_limit(const Model& model, std::size_t r, double limit) {
  Model changed = model;
  model::set_limit(changed, r, limit);
  return changed;
}

/// The rule's own price in a solution. A rule whose row is no longer held costs nothing.
double price_of(const Model& model, std::size_t r, const SearchResult& solution) {
  return shadow_price(model, r, solution);
}

/// What a walk in one direction found.
struct Side {
  double end = 0;                      ///< limit up to which the price holds; may be infinite
  std::optional<double> price_next{};  ///< one-sided price at the starting limit
};

class Walk {
 public:
  Walk(const Model& model, std::size_t r, const SearchResult& solution,
       const solver::SearchOptions& options)
      : model_(model),
        r_(r),
        solution_(solution),
        options_(options),
        limit_(model.rules[r].limit),
        price_(price_of(model, r, solution)),
        nudge_(1e-6 * std::max(std::fabs(limit_), 0.1)) {}

  Side follow(int direction);
  [[nodiscard]] double price() const { return price_; }

 private:
  [[nodiscard]] SearchResult solve(double limit) const {
    return solver::solve_branch(at_limit(model_, r_, limit), solution_.path, options_.deadline);
  }
  double follow_branch(int direction, std::optional<double>& price_next);
  struct Saving {
    double amount = 0;
    double rate = 0;
  };
  [[nodiscard]] std::optional<Saving> saving_of_other_branch(double limit) const;
  [[nodiscard]] double shorten_by_other_branches(double end, int direction) const;

  const Model& model_;
  std::size_t r_;
  const SearchResult& solution_;
  const solver::SearchOptions& options_;
  double limit_;
  double price_;
  double nudge_;
};

/// Walks along the optimal bases of the solution's own branch.
double Walk::follow_branch(int direction, std::optional<double>& price_next) {
  double limit = limit_;
  SearchResult here = solution_;
  for (int step = 0; step < most_steps; ++step) {
    const auto changed = at_limit(model_, r_, limit);
    const auto reach = basis_step(changed, r_, here);
    if (!reach) return limit;
    const double change = direction > 0 ? reach->up : reach->down;
    if (!std::isfinite(change)) {
      if (!price_next) price_next = price_;
      return direction * infinity;
    }
    const bool at_kink = std::fabs(change) <= nudge_;
    if (!at_kink && !price_next) price_next = price_;
    const double end = limit + change;
    const double next = end + direction * nudge_;
    const auto after = solve(next);
    if (after.status != SearchStatus::optimal) return end;
    const double old_price = price_of(changed, r_, here) / std::pow(1 + reach->curve * change, 2);
    const double new_price = price_of(at_limit(model_, r_, next), r_, after);
    if (!price_next) price_next = new_price;
    if (!same(old_price, new_price)) return end;
    limit = next;
    here = after;
  }
  return limit;
}

/// What another branch saves at `limit`, and how fast that saving grows with the limit.
std::optional<Walk::Saving> Walk::saving_of_other_branch(double limit) const {
  const auto changed = at_limit(model_, r_, limit);
  const auto own = solver::solve_branch(changed, solution_.path, options_.deadline);
  if (own.status != SearchStatus::optimal) return std::nullopt;
  auto cheaper_only = options_;
  cheaper_only.cutoff = own.cost - 1e-9 * std::max(1.0, std::fabs(own.cost));
  const auto other = solver::search(changed, cheaper_only);
  if (other.status != SearchStatus::optimal) return std::nullopt;
  return Saving{own.cost - other.cost, price_of(changed, r_, own) - price_of(changed, r_, other)};
}

/// Pulls `end` back to where another branch of the either-or rules starts to be cheaper. Newton
/// steps come from outside; where the last one lands inside, the other branch's cost is a straight
/// line up to the crossing, or else the rest is halved.
double Walk::shorten_by_other_branches(double end, int direction) const {
  const double far = 1000 * std::max(1.0, std::fabs(limit_));
  double outside = std::isfinite(end) ? end - direction * nudge_ : limit_ + direction * far;
  auto saving = saving_of_other_branch(outside);
  if (!saving) return end;
  double inside = limit_;
  const auto beyond = [&](double a, double b) { return direction * (a - b) > 0; };
  for (int step = 0; step < 30; ++step) {
    double next = outside - saving->amount / saving->rate;
    if (!std::isfinite(next) || !beyond(outside, next) || !beyond(next, inside)) break;
    auto there = saving_of_other_branch(next);
    if (!there) {
      inside = next;
      const double just_outside = next + direction * nudge_;
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

Side Walk::follow(int direction) {
  Side side;
  side.end = follow_branch(direction, side.price_next);
  if (model_.either_or() && std::fabs(side.end - limit_) > nudge_)
    side.end = shorten_by_other_branches(side.end, direction);
  if (model_.either_or() && side.price_next && std::fabs(side.end - limit_) <= nudge_) {
    // A tie between branches: the price beyond is the other branch's.
    const auto beyond = solver::search(at_limit(model_, r_, limit_ + direction * nudge_), options_);
    if (beyond.status == SearchStatus::optimal)
      side.price_next = price_of(at_limit(model_, r_, limit_ + direction * nudge_), r_, beyond);
  }
  return side;
}

}  // namespace

PriceInterval price_interval(const model::Model& model, std::size_t r,
                             const solver::SearchResult& solution,
                             const solver::SearchOptions& options) {
  Walk walk(model, r, solution, options);
  const Side below = walk.follow(-1);
  const Side above = walk.follow(1);
  // Ends within rounding of zero or of the limit itself are those numbers.
  const double limit = model.rules[r].limit;
  const auto tidy = [&](double end) {
    const double size = std::max(std::fabs(limit), 1e-3);
    if (std::fabs(end) <= 1e-9 * size) return 0.0;
    return std::fabs(end - limit) <= 1e-9 * size ? limit : end;
  };
  PriceInterval interval;
  if (std::isfinite(below.end)) interval.from = tidy(below.end);
  if (std::isfinite(above.end)) interval.to = tidy(above.end);
  interval.price_below = below.price_next;
  interval.price_above = above.price_next;
  interval.unique = below.price_next && above.price_next && same(*below.price_next, walk.price()) &&
                    same(*above.price_next, walk.price());
  return interval;
}

}  // namespace leastwise::insight
