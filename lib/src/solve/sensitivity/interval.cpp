#include "solve/sensitivity/interval.hpp"

#include <algorithm>
#include <cmath>

#include "solve/sensitivity/branch_walk.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;
using model::Model;
using solver::SearchStatus;

/// Where, from its beginning on, `curve` comes to cost `cost`; nothing: nowhere in that direction.
std::optional<double> where_it_costs(const CostCurve& curve, double cost, int direction) {
  const double missing = cost - curve.cost;
  const double change = missing / (curve.price - missing * curve.curve);
  if (!std::isfinite(change) || change * direction < 0) return std::nullopt;
  return curve.at + change;
}

/// Where in `stretch` a blend outside the program, which costs `alternative` whatever the limit,
/// becomes the cheaper one.
std::optional<double> where_dearer(const LimitWalk::Stretch& stretch, double alternative,
                                   int direction) {
  if (!std::isfinite(alternative)) return std::nullopt;
  const auto dear = where_it_costs(stretch.curve, alternative, direction);
  if (!dear || direction * (stretch.end - *dear) < 0) return std::nullopt;
  return dear;
}

/// Follows the limit of a program without either-or rules in one direction.
Side follow_program(LimitWalk& walk, double limit, int direction, double price,
                    double alternative) {
  auto here = walk.next();
  if (!here) {
    if (walk.ending() != LimitWalk::Ending::no_blend) return {};
    return {limit, std::isfinite(alternative) ? Known(0.0) : Known<double>::none()};
  }
  const double at_once = 1e-9 * std::max(std::fabs(limit), 1e-3);
  if (const auto dear = where_dearer(*here, alternative, direction))
    if (std::fabs(*dear - limit) <= at_once) return {limit, 0.0};
  if (!same_prices(here->curve.price, price)) return {limit, here->curve.price};
  for (;;) {
    if (const auto dear = where_dearer(*here, alternative, direction)) return {*dear, price};
    if (walk.ending() == LimitWalk::Ending::for_good) return {Known<double>::none(), price};
    const auto after = walk.next();
    if (!after && walk.ending() != LimitWalk::Ending::no_blend) return {{}, price};
    if (!after || !goes_on(*here, *after)) return {here->end, price};
    here = after;
  }
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
    interval.unique = below.price_next && above.price_next &&
                      same_prices(*below.price_next, price) &&
                      same_prices(*above.price_next, price);
  return interval;
}

PriceInterval minimum_interval(const model::Model& model, std::size_t k, double price,
                               const solver::SearchOptions& options) {
  const auto minimum = model.minima[k];
  Model held = model;  // the material is in, so its minimum is a plain share
  held.minima[k].active = false;
  model::Rule share{RuleKind::share, RuleSide::min, minimum.material, minimum.limit};
  share.row = minimum.row;
  if (minimum.row >= 0) {
    share.coefficient_derivatives = {{model.total_column, -0.01}};
  } else {
    share.column = minimum.column;
    share.rhs_derivative = minimum.kg_rate;
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
