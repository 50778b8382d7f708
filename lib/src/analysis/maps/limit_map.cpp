#include <leastwise/limit_map.hpp>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>
#include <utility>

#include "analysis/maps/limit_map_range.hpp"
#include "base/text/wording.hpp"
#include "scenario/checks.hpp"
#include "solve/answer.hpp"
#include "solve/landscape.hpp"
#include "solve/shadow_price.hpp"

namespace leastwise {
namespace {

using solver::SearchStatus;

/// The least cost at one limit, and how it rises there.
struct Tangent {
  double limit = 0;
  double cost = 0;
  double slope = 0;  ///< a subgradient: the cost lies on or above the line through here
  std::vector<double> kg{};

  [[nodiscard]] double at(double other) const { return cost + slope * (other - limit); }
};

class LimitCurve {
 public:
  LimitCurve(const Scenario& scenario, model::Model model, std::vector<std::size_t> rules,
             const solver::SearchOptions& options)
      : scenario_(scenario),
        model_(std::move(model)),
        rules_(std::move(rules)),
        options_(options) {}

  /// Returns: false when a limit struck. Fills `points`.
  bool follow(double from, double to);
  bool sample(const std::vector<double>& limits);

  [[nodiscard]] std::vector<LimitPoint> points() const;
  [[nodiscard]] long solves() const { return solves_; }
  [[nodiscard]] SearchStatus status() const { return status_; }

 private:
  bool solve(double limit, Tangent& tangent);
  bool solve_near(double limit, double inward, Tangent& tangent);
  void drop_crumbs(Tangent& tangent) const;
  bool between(const Tangent& left, const Tangent& right);
  static double place_between(const Tangent& left, const Tangent& right, double tolerance);
  void drop_straight();
  [[nodiscard]] std::vector<Note> cautions_between(std::size_t k) const;

  const Scenario& scenario_;
  model::Model model_;
  std::vector<std::size_t> rules_;
  const solver::SearchOptions& options_;
  std::vector<Tangent> found_{};
  std::vector<LimitPoint> sampled_{};
  SearchStatus status_ = SearchStatus::optimal;
  long solves_ = 0;
};

bool LimitCurve::solve(double limit, Tangent& tangent) {
  for (const auto r : rules_) model::set_limit(model_, r, limit);
  ++solves_;
  const auto found = solver::search(model_, options_);
  status_ = found.status;
  if (status_ != SearchStatus::optimal) return false;
  tangent = {limit, found.cost, 0, insight::kg_of(scenario_, model_, found.x)};
  for (const auto r : rules_) tangent.slope += insight::shadow_price(model_, r, found);
  return true;
}

/// Takes out what rounding left of materials at the very end of what is possible: 10 mg in a tonne,
/// which no weighing finds.
void LimitCurve::drop_crumbs(Tangent& tangent) const {
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
      drop_crumbs(tangent);
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
  const double tolerance = insight::cost_tolerance(std::max(left.cost, right.cost));
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

/// Removes points at which the curve does not bend.
void LimitCurve::drop_straight() {
  for (std::size_t k = 1; k + 1 < found_.size();) {
    const auto& a = found_[k - 1];
    const auto& b = found_[k + 1];
    const double share = (found_[k].limit - a.limit) / (b.limit - a.limit);
    const double chord = a.cost + share * (b.cost - a.cost);
    if (chord - found_[k].cost <= 2 * insight::cost_tolerance(chord))
      found_.erase(found_.begin() + static_cast<std::ptrdiff_t>(k));
    else
      ++k;
  }
}

bool LimitCurve::sample(const std::vector<double>& limits) {
  for (const double limit : limits) {
    Tangent tangent;
    LimitPoint point;
    point.limit = limit;
    if (solve(limit, tangent)) {
      point.cost = tangent.cost;
      point.blend = insight::blend_of(scenario_, tangent.kg, insight::LabelNotes::left_out);
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
  insight::add_limited_cautions(scenario_, here, said);
  insight::add_limited_cautions(scenario_, next, said);
  std::vector<Note> notes;
  insight::add_limited_cautions(scenario_, both, notes);
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
    point.blend = insight::blend_of(scenario_, found_[k].kg, insight::LabelNotes::left_out);
    list.push_back(std::move(point));
  }
  return list;
}

void require_limits(double from, double to, const model::Rule& rule) {
  const double most = limit_unit(rule.kind) == LimitUnit::percent ? 100 : largest_number;
  if (!std::isfinite(from) || !std::isfinite(to) || from < 0 || to > most)
    throw std::invalid_argument("limits of this rule lie between 0 and " + number_text(most) +
                                ", found " + number_text(from) + " to " + number_text(to));
  if (!(from < to))
    throw std::invalid_argument("an interval of limits must rise, found " + number_text(from) +
                                " to " + number_text(to));
}

[[noreturn]] void refuse(const Scenario& scenario, std::string_view name) {
  const auto either_or = either_or_rules(scenario);
  if (std::find(either_or.begin(), either_or.end(), name) != either_or.end())
    throw std::invalid_argument(in_quotes(name) +
                                " is an either-or rule, whose limit cannot be varied");
  throw std::out_of_range("the scenario has no rule " + in_quotes(name));
}

/// The rules to vary: those of that id, which must have a limit.
std::vector<std::size_t> rules_to_vary(const Scenario& scenario, const model::Model& model,
                                       const RuleId& id) {
  std::vector<std::size_t> rules;
  for (std::size_t r = 0; r < model.rules.size(); ++r)
    if (model::origin_of(model.rules[r], scenario).id == id) rules.push_back(r);
  if (rules.empty()) refuse(scenario, to_string(id));
  return rules;
}

/// The one rule of that name. A material or a nutrient may have any name, so two rules may read
/// alike.
RuleId rule_named(const Scenario& scenario, std::string_view name) {
  std::set<RuleId> found;
  for (const auto& rule : rules::rules_of(scenario))
    if (!rule.is_either_or() && to_string(rule.id) == name) found.insert(rule.id);
  if (found.empty()) refuse(scenario, name);
  if (found.size() > 1)
    throw std::invalid_argument("the scenario has two rules called " + in_quotes(name));
  return *found.begin();
}

/// What is asked, before anything is found.
LimitMap asked_of(const Scenario& scenario, const model::Rule& first, const RuleId& id, double from,
                  double to) {
  LimitMap map;
  map.title = scenario.title();
  map.currency = scenario.currency();
  map.basis = scenario.basis();
  map.notes.assign(scenario.notes().begin(), scenario.notes().end());
  map.rule = to_string(id);
  map.id = id;
  map.unit = limit_unit(id.kind);
  map.from = from;
  map.to = to;
  map.limit_now = first.limit;
  map.declared_now = model::declared_of(first, scenario);
  return map;
}

std::vector<double> sample_limits(double from, double to, double now, int samples) {
  std::vector<double> limits;
  for (int k = 0; k < samples; ++k) limits.push_back(from + (to - from) * k / (samples - 1));
  if (now > from && now < to) limits.push_back(now);
  std::sort(limits.begin(), limits.end());
  limits.erase(std::unique(limits.begin(), limits.end()), limits.end());
  return limits;
}

/// The names of the rules that have a limit to move, or of the others; each name once.
std::vector<std::string> names_of(const Scenario& scenario, bool have_limit_to_move) {
  std::vector<std::string> names;
  for (const auto& rule : rules::rules_of(scenario)) {
    auto name = to_string(rule.id);
    if (rule.is_either_or() != have_limit_to_move &&
        std::find(names.begin(), names.end(), name) == names.end())
      names.push_back(std::move(name));
  }
  return names;
}

/// The end of [from, to] at which the rule asks less; of an equality the one nearer to what it is.
double easier_end(const model::Rule& rule, double from, double to) {
  if (rule.side == RuleSide::min) return from;
  if (rule.side == RuleSide::max) return to;
  return std::fabs(rule.limit - from) <= std::fabs(rule.limit - to) ? from : to;
}

}  // namespace

std::vector<std::string> rules_with_limits(const Scenario& scenario) {
  return names_of(scenario, true);
}

std::vector<std::string> either_or_rules(const Scenario& scenario) {
  return names_of(scenario, false);
}

LimitMap limit_map(const Scenario& scenario, std::string_view rule, double from, double to,
                   const LimitMapOptions& options) {
  return limit_map(scenario, rule_named(scenario, rule), from, to, options);
}

LimitMap limit_map(const Scenario& scenario, const RuleId& rule, double from, double to,
                   const LimitMapOptions& options) {
  const auto model = model::build(scenario);
  const auto rules = rules_to_vary(scenario, model, rule);
  const auto& first = model.rules[rules.front()];
  require_limits(from, to, first);
  if (options.samples < 2) throw std::invalid_argument("a curve needs at least 2 samples");
  auto map = asked_of(scenario, first, rule, from, to);
  const auto search = insight::counted_search_options(options.limits);
  const bool drifts = std::any_of(rules.begin(), rules.end(),
                                  [&](std::size_t r) { return !model.rules[r].drift.empty(); });
  if (drifts) map.why_sampled = "the limit also changes how much each material counts";
  if (model.either_or()) map.why_sampled = "either-or rules let the cost jump and bend either way";
  map.exact = map.why_sampled.empty();
  LimitCurve curve(scenario, model, rules, search);
  auto status = SearchStatus::optimal;
  const bool two_sided = rules.size() > 1 || first.side == RuleSide::exactly;
  if (!drifts && (map.exact || !two_sided)) {
    const auto range = insight::possible_limits(model, rules, {from, to}, search);
    status = range.status;
    map.solves = range.solves;
    if (status == SearchStatus::optimal) map.possible = range.limits;
  }
  if (status == SearchStatus::infeasible)
    map.points = {{from, {}, {}, {}, {}}, {to, {}, {}, {}, {}}};
  if (status == SearchStatus::optimal) {
    const Limits span = map.possible.value_or(Limits{from, to});
    const bool done = map.exact
                          ? curve.follow(span.min, span.max)
                          : curve.sample(sample_limits(span.min, span.max, map.limit_now,
                                                       span.max > span.min ? options.samples : 2));
    if (!done) status = curve.status();
  }
  if (status != SearchStatus::infeasible) map.points = curve.points();
  map.solves += curve.solves();
  if (status == SearchStatus::optimal &&
      std::none_of(map.points.begin(), map.points.end(), [](const auto& p) { return p.cost; }))
    status = SearchStatus::infeasible;
  if (status == SearchStatus::infeasible) {
    map.conflict_at = easier_end(first, from, to);
    auto there = model;
    for (const auto r : rules) model::set_limit(there, r, *map.conflict_at);
    map.ending = insight::ending_of(scenario, there, status, options.limits, search);
    return map;
  }
  map.ending = insight::ending_of(scenario, model, status, options.limits, search,
                                  insight::what_is_finished(!map.points.empty()));
  return map;
}

}  // namespace leastwise
