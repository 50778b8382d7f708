#pragma once
#include <leastwise/export.h>
#include <leastwise/outcome.hpp>
#include <leastwise/unit_system.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// A set of materials and the cheapest blend made of nothing else.
struct Alternative {
  std::vector<std::string> materials{};  ///< in the order of the scenario
  double cost = 0;                       ///< per ha or per t, by basis
  double difference = 0;                 ///< to the cheapest blend of all; same unit
  Blend blend{};                         ///< without prices of rules
};

/// The cheapest blends with distinct sets of materials, in order of cost.
struct Alternatives {
  std::string title{};              ///< of the scenario
  std::string currency{};           ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;   ///< what one unit of the answer stands for
  Units units = Units::metric;      ///< what its pages are written in; all figures are metric
  std::vector<Alternative> list{};  ///< cheapest first
  bool exhausted = false;           ///< true: the scenario has no further set
  long solves = 0;                  ///< linear programs the proof rests on
  std::vector<Note> notes{};        ///< of the scenario; those of a recipe are with its blend
  Outcome outcome{};                ///< complete, without a blend, or stopped
};

/// Lists the `count` cheapest sets of materials, none missed.
///
/// A set is listed when no cheaper or equally cheap blend can be made of a part of it: each of its
/// materials earns its place. A set that a blend uses only because it is made to use more than it
/// needs is none. Costs within 1e-9 of one another count as equal; such sets stand in an order
/// that is the same for the same input.
///
/// How: every part of the search excludes some materials and demands others. The cheapest blend of
/// a part uses a set S. Any other set of that part that deserves a line lacks some material of S,
/// for a set that holds all of S costs at least as much as S, which is part of it. So the part is
/// divided by the first material of S that is lacking, those before it demanded. Parts are taken
/// up in the order of their proved lower bounds.
/// Throws: std::invalid_argument for a count below 1.
/// Thread safety: as `formulate`. Deterministic.
[[nodiscard]] LEASTWISE_API Alternatives alternatives(const Scenario& scenario, int count,
                                                      const SolveOptions& limits = {});

/// What to make small when the cost may rise a little.
enum class SecondaryObjective {
  fewest_materials,  ///< the binder is not counted
  least_mass,        ///< kg per hectare; a tonne always weighs a tonne
  least_of,          ///< kg of a nutrient or property, per ha or per t, by basis
};

/// `fewest materials`, `least mass`, `least of`: the wording of reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(SecondaryObjective wish);

/// The best blend in the sense of a wish among all that cost at most `within_percent` more.
///
/// What was not found is empty: all of it without a blend, what is wished for when it was stopped.
struct NearOptimum {
  std::string title{};             ///< of the scenario
  std::string currency{};          ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;  ///< what one unit of the answer stands for
  Units units = Units::metric;     ///< what its pages are written in; all figures are metric
  SecondaryObjective wish = SecondaryObjective::fewest_materials;  ///< what was to be small
  std::string of{};                                                ///< for `least_of`
  double within_percent = 0;                                       ///< how much more it may cost
  std::optional<double> best_cost{};      ///< of the cheapest blend; per ha or per t, by basis
  std::optional<double> cost_limit{};     ///< what the blend may cost
  std::optional<double> cost{};           ///< what it costs
  std::optional<double> value_at_best{};  ///< of the cheapest blend
  std::optional<double> value{};          ///< materials, kg/ha, or kg of `of`; the least there is
  std::optional<Blend> best{};            ///< the cheapest blend of all
  std::optional<Blend> blend{};           ///< the cheapest among those with that value
  long solves = 0;                        ///< linear programs solved
  std::vector<Note> notes{};              ///< of the scenario; those of a recipe are with its blend
  Outcome outcome{};                      ///< complete, without a blend, or stopped
};

/// Finds the blend with the fewest materials, the least mass or the least of something among those
/// within `within_percent` of the least cost, either-or rules kept; ties go to the cheapest.
///
/// Throws: std::invalid_argument for a percentage that is negative or not finite, `least_mass` in
/// the per-tonne basis, or a name that no material in play contains.
[[nodiscard]] LEASTWISE_API NearOptimum near_optimum(const Scenario& scenario,
                                                     double within_percent, SecondaryObjective wish,
                                                     std::string_view of = {},
                                                     const SolveOptions& limits = {});

}  // namespace leastwise
