#include "solve/sensitivity/limit_walk.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "scenario/rule_terms.hpp"
#include "solve/index.hpp"
#include "solve/row_entries.hpp"
#include "solver/certificate.hpp"

namespace leastwise::solve {
namespace {

using model::infinity;

/// Bases visited before a walk is given up; degenerate vertices need a handful.
constexpr int most_bases = 500;
/// A stretch shorter than this share of the limit is none.
constexpr double no_length = 1e-9;
/// Costs recomputed at both ends of a stretch agree to this share.
constexpr double same_curve = 1e-8;

/// Two ways to say the same amount may differ in their last bit.
void join_last_bits(double& lower, double& upper) {
  if (lower > upper && lower <= upper + 1e-9 * std::max(std::fabs(upper), 1e-9)) lower = upper;
}

/// Sets duals to zero that are no more than rounding beside every cost.
void clear_dual_traces(const solver::LinearProgram& data, std::vector<double>& y) {
  double largest_cost = 0;
  for (const double c : data.cost) largest_cost = std::max(largest_cost, std::fabs(c));
  for (int i = 0; i < data.rows; ++i) {
    double largest = 0;
    for_each_entry(data, i, [&](int, double a) { largest = std::max(largest, std::fabs(a)); });
    if (std::fabs(y[index(i)]) * largest <= 1e-13 * largest_cost) y[index(i)] = 0;
  }
}

}  // namespace

BasisProgram::BasisProgram(const solver::SearchResult& solution)
    : data_(solution.leaf), simplex_(data_) {
  auto start = solution.column_standing;
  start.insert(start.end(), solution.row_standing.begin(), solution.row_standing.end());
  simplex_.set_warm_start(start);
  simplex_.keep_basis();
  state_ = simplex_.state();
}

LimitWalk::LimitWalk(BasisProgram& program, std::vector<MovingBound> bounds, double limit,
                     int direction, const solver::SearchOptions& options)
    : program_(program),
      bounds_(std::move(bounds)),
      first_(limit),
      limit_(limit),
      direction_(direction),
      size_(limit == 0 ? 0.1 : std::fabs(limit)),
      options_(options) {
  const auto& data = program_.data_;
  for (const auto& bound : bounds_) {
    const bool on_row = bound.row >= 0;
    const auto k = index(on_row ? bound.row : bound.column);
    Before before{
        on_row ? data.row_lower[k] : data.lower[k], on_row ? data.row_upper[k] : data.upper[k], {}};
    if (!bound.drift.empty())
      before.entries.assign(data.entries.begin() + data.row_start[k],
                            data.entries.begin() + data.row_start[k + 1]);
    before_.push_back(std::move(before));
  }
}

LimitWalk::~LimitWalk() {
  auto& data = program_.data_;
  for (std::size_t b = 0; b < bounds_.size(); ++b) {
    const auto& before = before_[b];
    const bool on_row = bounds_[b].row >= 0;
    const auto k = index(on_row ? bounds_[b].row : bounds_[b].column);
    (on_row ? data.row_lower : data.lower)[k] = before.lower;
    (on_row ? data.row_upper : data.upper)[k] = before.upper;
    if (before.entries.empty()) continue;
    std::copy(before.entries.begin(), before.entries.end(),
              data.entries.begin() + data.row_start[k]);
    program_.simplex_.set_row(k, before.entries);
  }
  program_.simplex_.stand_at(*program_.state_);
}

std::size_t LimitWalk::variable(const MovingBound& bound) const {
  return bound.row >= 0 ? program_.data_.cost.size() + index(bound.row) : index(bound.column);
}

/// The limit after a change; what rounding left of zero is zero.
double LimitWalk::after(double change) const {
  const double limit = limit_ + direction_ * change;
  return std::fabs(limit) <= std::max(no_length * size_, 1e-12) ? 0 : limit;
}

/// The program's own numbers at a limit.
void LimitWalk::lay(double limit) {
  auto& data = program_.data_;
  for (std::size_t b = 0; b < bounds_.size(); ++b) {
    const auto& moving = bounds_[b];
    const double bound = moving.rate == 0 ? 0.0 : limit * moving.rate;
    double lower = moving.other_lower;
    double upper = moving.other_upper;
    if (moving.side != RuleSide::max) lower = std::max(lower, bound);
    if (moving.side != RuleSide::min) upper = std::min(upper, bound);
    join_last_bits(lower, upper);
    const bool on_row = moving.row >= 0;
    const auto k = index(on_row ? moving.row : moving.column);
    (on_row ? data.row_lower : data.lower)[k] = lower;
    (on_row ? data.row_upper : data.upper)[k] = upper;
    for (const auto& drift : moving.drift)
      for (std::size_t e = 0; e < before_[b].entries.size(); ++e) {
        const auto& entry = before_[b].entries[e];
        if (entry.column != drift.column) continue;
        const double then = first_ * drift.value;
        const double fixed = rules::without_rounding(entry.value - then, entry.value);
        const double moved = limit * drift.value;
        data.entries[index(data.row_start[k]) + e].value =
            rules::without_rounding(fixed + moved, std::fabs(fixed) + std::fabs(moved));
      }
  }
}

/// Goes on to a limit in the present basis.
void LimitWalk::go_to(double limit) {
  lay(limit);
  const auto& data = program_.data_;
  auto& simplex = program_.simplex_;
  for (const auto& moving : bounds_) {
    const auto k = index(moving.row >= 0 ? moving.row : moving.column);
    if (!moving.drift.empty())
      simplex.set_row(k, std::span(data.entries)
                             .subspan(index(data.row_start[k]),
                                      index(data.row_start[k + 1] - data.row_start[k])));
    simplex.set_bounds(variable(moving), moving.row >= 0 ? data.row_lower[k] : data.lower[k],
                       moving.row >= 0 ? data.row_upper[k] : data.upper[k]);
  }
  simplex.keep_basis();
  limit_ = limit;
}

/// Reads the present basis and recomputes what it says from the program's own numbers.
bool LimitWalk::verify() {
  const auto& data = program_.data_;
  program_.simplex_.take_values();
  program_.simplex_.read(x_, y_);
  const auto finite = [](double v) { return std::isfinite(v); };
  if (!std::ranges::all_of(x_, finite) || !std::ranges::all_of(y_, finite)) return false;
  for (std::size_t j = 0; j < x_.size(); ++j)
    x_[j] = std::clamp(x_[j], data.lower[j], std::max(data.lower[j], data.upper[j])) + 0.0;
  if (pending_ && pending_->kind == solver::Breakpoint::Kind::bound) {  // what stops it is there
    const auto v = program_.simplex_.basic(pending_->index);
    if (v < x_.size()) x_[v] = pending_->below ? data.lower[v] : data.upper[v];
  }
  solver::round_small_to_zero(data, x_);
  solver::clean_duals(data, y_);
  cost_ = 0;
  for (std::size_t j = 0; j < x_.size(); ++j) cost_ += data.cost[j] * x_[j];
  auto proof = solver::dual_proof(data, y_);
  if (proof.violation > solver::certificate_tolerance) {
    clear_dual_traces(data, y_);
    proof = solver::dual_proof(data, y_);
  }
  // Where nothing is bought any more, beside what was.
  scale_ = std::max(scale_, std::fabs(cost_));
  return solver::primal_violation(data, x_) <= solver::certificate_tolerance &&
         proof.violation <= solver::certificate_tolerance &&
         (solver::optimality_gap(data, x_, proof) <= solver::gap_tolerance ||
          std::fabs(cost_ - proof.bound) <= 1e-12 * scale_);
}

/// Solves the program where the walk is; once.
bool LimitWalk::recover() {
  if (std::exchange(recovered_, true)) return false;
  pending_.reset();
  return program_.simplex_.make_sound() &&
         program_.simplex_.solve(options_.deadline, infinity) == solver::DenseOutcome::optimal;
}

/// What one unit more of the limit costs in the present basis, ahead.
double LimitWalk::price() const {
  const auto& data = program_.data_;
  double price = 0;
  for (const auto& moving : bounds_) {
    const auto motion = motion_of(moving, limit_, direction_);
    const auto k = index(moving.row >= 0 ? moving.row : moving.column);
    double dual = 0;
    double rate = 0;
    if (moving.row >= 0)
      dual = y_[k];
    else if (!program_.simplex_.is_basic(k))
      dual = solver::reduced_costs(data, y_)[k];
    if (dual == 0) continue;
    rate = dual > 0 ? motion.lower_rate : motion.upper_rate;
    for (const auto& drift : moving.drift) rate -= drift.value * x_[index(drift.column)];
    price += dual * rate;
  }
  return price + 0.0;
}

/// To the next basis, at the same limit.
void LimitWalk::turn() {
  const auto at = *std::exchange(pending_, std::nullopt);
  switch (program_.simplex_.turn(at)) {
    case solver::DenseSimplex::Turn::taken:
      return;
    case solver::DenseSimplex::Turn::impossible:
      if (is_impossible_beyond(at.index))
        ending_ = Ending::no_blend;
      else if (!recover())
        ending_ = Ending::unknown;
      return;
    case solver::DenseSimplex::Turn::stuck:
      if (!recover()) ending_ = Ending::unknown;
      return;
  }
}

/// Where the present basis, or the motion of its bounds, ends.
solver::Breakpoint LimitWalk::ahead(bool& crossing) {
  std::vector<solver::Motion> motions;
  double until = infinity;
  crossing = false;
  for (const auto& moving : bounds_) {
    const auto motion = motion_of(moving, limit_, direction_);
    motions.push_back({variable(moving), motion.lower_rate, motion.upper_rate, moving.drift});
    if (motion.until < until) crossing = motion.crossing;
    until = std::min(until, motion.until);
  }
  auto at = program_.simplex_.next_breakpoint(motions, direction_);
  if (until <= at.change) return {solver::Breakpoint::Kind::none, until, at.curve};
  crossing = false;
  return at;
}

std::optional<LimitWalk::Stretch> LimitWalk::next() {
  using Kind = solver::Breakpoint::Kind;
  while (ending_ == Ending::open) {
    if (pending_) turn();
    if (ending_ != Ending::open) break;
    if (crossing_) return finish(Ending::no_blend);
    if (++bases_ > most_bases || solver::interrupted(options_)) return finish(Ending::unknown);
    if (options_.counter) options_.counter->count();
    bool crossing = false;
    const auto at = ahead(crossing);
    const bool counts = at.change > no_length * size_;
    if (at.kind == Kind::unknown && !counts) return finish(Ending::unknown);
    Stretch stretch;
    if (counts) {
      if (!verify()) {
        if (recover()) continue;
        return finish(Ending::unknown);
      }
      stretch = {{limit_, cost_, price(), at.curve}, after(at.change)};
      if (std::isinf(at.change) || at.kind == Kind::unknown) {
        ending_ = std::isinf(at.change) ? Ending::for_good : Ending::unknown;
        return stretch;
      }
    }
    go_to(after(at.change));
    crossing_ = crossing;
    if (at.kind != Kind::none) pending_ = at;
    if (!counts) continue;
    if (!ends_well(stretch)) return finish(Ending::unknown);
    return stretch;
  }
  return std::nullopt;
}

/// Whether the basis of a stretch is still optimal at its end, and costs there what it should.
bool LimitWalk::ends_well(const Stretch& stretch) {
  const double expected = stretch.curve(stretch.end);
  const auto agrees = [&] {
    return verify() && std::fabs(cost_ - expected) <= same_curve * std::max(1.0, std::fabs(cost_));
  };
  return agrees() || (recover() && agrees());
}

}  // namespace leastwise::solve
