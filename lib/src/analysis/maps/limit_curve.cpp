#include "analysis/maps/limit_curve.hpp"

#include <algorithm>
#include <cmath>

#include "solve/answer.hpp"
#include "solve/answer_parts.hpp"
#include "solve/shadow_price.hpp"

namespace leastwise::analysis {

using solver::SearchStatus;

bool LimitCurve::solve(double limit, Tangent& tangent) {
  for (const auto r : rules_) model::set_limit(model_, r, limit);
  ++solves_;
  const auto found = solver::search(model_, options_);
  status_ = found.status;
  if (status_ != SearchStatus::optimal) return false;
  tangent = {limit, found.cost, 0, solve::kg_of(scenario_, model_, found.x)};
  for (const auto r : rules_) {
    const int pair = model_.rules[r].paired_rule;
    const bool counted = pair >= 0 && pair < static_cast<int>(r);  // with the other of its pair
    if (!counted) tangent.slope += solve::shadow_price(model_, r, found);
  }
  return true;
}

/// Takes out what rounding left of materials at the very end of what is possible: 10 mg in a tonne,
/// which no weighing finds.
void LimitCurve::round_small_to_zero(Tangent& tangent) const {
  double total = 0;
  for (std::size_t i = 0; i < tangent.kg.size(); ++i)
    total += scenario_.mass_factor(i) * tangent.kg[i];
  for (double& kg : tangent.kg)
    if (kg < 1e-8 * total) kg = 0;
}

/// The very end of what is possible may be lost to rounding: a step of a billionth regains it.
bool LimitCurve::solve_near(double limit, double inward, Tangent& tangent) {
  double step = 0;
  for (int attempt = 0; attempt < 4; ++attempt) {
    if (solve(limit + step, tangent)) {
      round_small_to_zero(tangent);
      return true;
    }
    if (status_ != SearchStatus::infeasible) return false;
    step = inward * std::max(1.0, std::fabs(limit)) * 1e-9 * std::pow(10, attempt);
  }
  status_ = SearchStatus::failed;
  return false;
}

/// Where to look between two points. Tangents that may be true meet where the curve bends, or join
/// the points; a tangent that passes above the other point is no tangent of a convex curve, and
/// then it is the middle.
double LimitCurve::place_between(const Tangent& left, const Tangent& right, double tolerance) {
  const double middle = left.limit + (right.limit - left.limit) / 2;
  const double above_left = right.at(left.limit) - left.cost;
  const double above_right = left.at(right.limit) - right.cost;
  if (above_left > tolerance || above_right > tolerance) return middle;
  if (above_left >= -tolerance || above_right >= -tolerance) return middle;
  const double meeting = (left.at(0) - right.at(0)) / (right.slope - left.slope);
  const double margin = 1e-9 * (right.limit - left.limit);
  return meeting > left.limit + margin && meeting < right.limit - margin ? meeting : middle;
}

/// Adds the points at which the curve bends after `left`, and `right`. A convex curve that meets
/// the chord of two points at one place between them is straight from one to the other; no piece is
/// taken for straight without that.
bool LimitCurve::between(const Tangent& left, const Tangent& right) {
  const double tolerance = solve::cost_tolerance(std::max(left.cost, right.cost));
  const double width = right.limit - left.limit;
  if (width <= 1e-9 * std::max(std::fabs(left.limit), std::fabs(right.limit))) {
    found_.push_back(right);
    return true;
  }
  Tangent inside;
  if (!solve(place_between(left, right, tolerance), inside)) return false;
  const double share = (inside.limit - left.limit) / width;
  if (inside.cost >= left.cost + share * (right.cost - left.cost) - tolerance) {
    found_.push_back(right);
    return true;
  }
  return between(left, inside) && between(inside, right);
}

bool LimitCurve::follow(double from, double to) {
  Tangent left;
  Tangent right;
  if (!solve_near(from, 1, left)) return false;
  found_.push_back(left);
  if (to > from) {
    if (!solve_near(to, -1, right)) return false;
    if (!between(left, right)) return false;
    drop_straight();
  }
  return true;
}

/// Whether all points between two of them lie on their chord.
bool LimitCurve::is_straight(std::size_t first, std::size_t last) const {
  const auto& a = found_[first];
  const auto& b = found_[last];
  for (std::size_t k = first + 1; k < last; ++k) {
    const double share = (found_[k].limit - a.limit) / (b.limit - a.limit);
    const double chord = a.cost + share * (b.cost - a.cost);
    if (chord - found_[k].cost > 2 * solve::cost_tolerance(chord)) return false;
  }
  return true;
}

/// Removes points at which the curve does not bend. Each is held against the chord that takes its
/// place: points that are close together would otherwise go one by one, and a bend with them.
void LimitCurve::drop_straight() {
  std::vector<Tangent> bends{found_.front()};
  std::size_t first = 0;
  for (std::size_t last = 1; last < found_.size(); ++last) {
    if (is_straight(first, last)) continue;
    first = last - 1;
    bends.push_back(found_[first]);
  }
  bends.push_back(found_.back());
  found_ = std::move(bends);
}

bool LimitCurve::sample(const std::vector<double>& limits) {
  for (const double limit : limits) {
    Tangent tangent;
    LimitPoint point;
    point.limit = limit;
    if (solve(limit, tangent)) {
      point.cost = tangent.cost;
      point.blend = solve::blend_of(scenario_, tangent.kg, solve::LabelNotes::left_out);
    } else if (status_ != SearchStatus::infeasible) {
      return false;
    }
    sampled_.push_back(std::move(point));
  }
  status_ = SearchStatus::optimal;
  return true;
}

/// What is to be minded on the way from one point to the next, where the recipe holds what both
/// hold, and neither is enough to say it.
std::vector<Note> LimitCurve::cautions_between(std::size_t k) const {
  const auto& here = found_[k].kg;
  const auto& next = found_[k + 1].kg;
  std::vector<double> both(here);
  for (std::size_t i = 0; i < both.size(); ++i) both[i] += next[i];
  std::vector<Note> said;
  solve::add_limited_cautions(scenario_, here, said);
  solve::add_limited_cautions(scenario_, next, said);
  std::vector<Note> notes;
  solve::add_limited_cautions(scenario_, both, notes);
  std::erase_if(notes, [&](const Note& note) {
    return std::find(said.begin(), said.end(), note) != said.end();
  });
  return notes;
}

std::vector<LimitPoint> LimitCurve::points() const {
  if (!sampled_.empty()) return sampled_;
  std::vector<LimitPoint> list;
  for (std::size_t k = 0; k < found_.size(); ++k) {
    LimitPoint point;
    point.limit = found_[k].limit;
    point.cost = found_[k].cost;
    if (k + 1 < found_.size())
      point.marginal_cost_after =
          (found_[k + 1].cost - found_[k].cost) / (found_[k + 1].limit - found_[k].limit);
    if (k + 1 < found_.size()) point.cautions_after = cautions_between(k);
    point.blend = solve::blend_of(scenario_, found_[k].kg, solve::LabelNotes::left_out);
    list.push_back(std::move(point));
  }
  return list;
}

}  // namespace leastwise::analysis
