#pragma once
#include <leastwise/export.h>
#include <leastwise/outcome.hpp>
#include <leastwise/rule_id.hpp>
#include <leastwise/unit_system.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// The least cost at one limit of a rule.
///
/// Its blend does not say how sure the limits of a label are, for they are not those in force.
struct LimitPoint {
  double limit = 0;                             ///< in the rule's unit
  std::optional<double> cost{};                 ///< per ha or per t, by basis; empty: no blend
  std::optional<double> marginal_cost_after{};  ///< exact maps: slope up to the next point
  std::vector<Note> cautions_after{};           ///< exact maps: only for mixtures with the next
  std::optional<Blend> blend{};                 ///< the cheapest blend there
};

/// The least cost as a function of one rule's limit: the marginal-cost curve.
struct LimitMap {
  std::string title{};               ///< of the scenario
  std::string currency{};            ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;    ///< what one unit of the answer stands for
  Units units = Units::metric;       ///< what its pages are written in; all figures are metric
  std::string rule{};                ///< `rate N min`
  RuleId id{};                       ///< the same as a value
  LimitUnit unit = LimitUnit::none;  ///< of `from`, `to` and every limit
  double from = 0;                   ///< start of the interval asked for
  double to = 0;                     ///< its end
  double limit_now = 0;              ///< what the scenario says, any tolerance taken off
  /// The minimum as the scenario states it, where a label tolerance lowers it to `limit_now`; all
  /// limits of the map are then lowered ones.
  std::optional<double> declared_now{};
  /// The part of [from, to] in which there is a blend; empty when there is none at all, or when
  /// either-or rules may leave holes in it.
  std::optional<Limits> possible{};
  /// True: straight lines join the points, proved by convexity. False: each point is a proved
  /// optimum, and nothing is claimed between them.
  bool exact = false;
  std::string why_sampled{};         ///< for a person, when not exact
  std::vector<LimitPoint> points{};  ///< by rising limit
  /// Without a blend anywhere: the end of the interval that asks less, where `outcome.conflict` is.
  std::optional<double> conflict_at{};
  long solves = 0;            ///< linear programs solved
  std::vector<Note> notes{};  ///< of the scenario; those of a recipe are with its blend
  Outcome outcome{};          ///< complete, without a blend, or stopped
};

/// How finely to sample, and how long it may take.
struct LimitMapOptions {
  int samples = 41;       ///< points where the curve cannot be exact; at least 2
  SolveOptions limits{};  ///< when to give up
};

/// Follows the least cost while the limit of `rule` runs through [from, to].
///
/// Exact for rules whose row does not change with its limit, without either-or rules: the cost is
/// then convex and piecewise linear, and tangents are intersected until they meet the cost. Else
/// sampled at evenly spaced limits and at the present one. Without a blend at any of them the
/// ending is `infeasible`.
/// Throws: std::out_of_range for a rule the scenario does not have; std::invalid_argument for a
/// name that two different rules share, for an either-or rule, for an interval that is empty, not
/// finite or outside what such a limit may be, or too few samples.
[[nodiscard]] LEASTWISE_API LimitMap limit_map(const Scenario& scenario, std::string_view rule,
                                               double from, double to,
                                               const LimitMapOptions& options = {});
/// The same for the rule of that id, whatever its name.
[[nodiscard]] LEASTWISE_API LimitMap limit_map(const Scenario& scenario, const RuleId& rule,
                                               double from, double to,
                                               const LimitMapOptions& options = {});

/// The names of the rules of `scenario` that have a limit to move: `rate N min`, `grade Cl max`.
[[nodiscard]] LEASTWISE_API std::vector<std::string> rules_with_limits(const Scenario& scenario);

/// The names of its either-or rules, which hold or not and so have no curve: `bins`, `min if used
/// urea`, `apart urea / lime`.
[[nodiscard]] LEASTWISE_API std::vector<std::string> either_or_rules(const Scenario& scenario);

}  // namespace leastwise
