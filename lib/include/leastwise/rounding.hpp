#pragma once
#include <leastwise/export.h>
#include <leastwise/outcome.hpp>
#include <leastwise/rule_id.hpp>

#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// What the plant can weigh, and how long the proof may take.
struct RoundingOptions {
  double step_kg = 0.5;  ///< everything is weighed in multiples of this
  /// What is weighed at once: so much product in the per-tonne basis, the product for so much land
  /// in the per-hectare basis. The other one must be left empty.
  std::optional<double> batch_kg{};        ///< default 1000
  std::optional<double> batch_hectares{};  ///< default 1
  long most_solves = 200'000;              ///< linear programs before the proof is given up
  SolveOptions limits{};                   ///< when to give up the proof
};

/// One good to weigh for a batch.
struct WeighedPortion {
  std::string material{};         ///< its name
  Form form = Form::granule;      ///< the form in which it enters
  double kg_per_batch = 0;        ///< a multiple of the step
  double exact_kg_per_batch = 0;  ///< in the cheapest blend off the grid
  double cost_per_batch = 0;      ///< price and freight of what is weighed
};

/// The binder as it is weighed, on the grid too; all amounts are 0 without powders.
struct WeighedBinder {
  std::string material{};         ///< its name; empty: unnamed
  double kg_per_batch = 0;        ///< the step nearest to its share, at least one with any powder
  double exact_kg_per_batch = 0;  ///< of these powders, before rounding
  double off_grid_kg_per_batch = 0;  ///< in the cheapest blend off the grid
  double cost_per_batch = 0;         ///< of the binder weighed
};

/// A rule that the weighed blend does not keep, and by how much.
struct RuleViolation {
  std::string rule{};                ///< its name in reports
  RuleId id{};                       ///< the same as a value
  double limit = 0;                  ///< in `unit`
  double value = 0;                  ///< what the weighed blend has
  LimitUnit unit = LimitUnit::none;  ///< of both
};

/// The cheapest blend that can be weighed in whole steps. What was not found is empty.
struct RoundedBlend {
  std::string title{};                     ///< of the scenario
  std::string currency{};                  ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;          ///< what one unit of the answer stands for
  double step_kg = 0;                      ///< as asked
  std::optional<double> batch_hectares{};  ///< per-hectare basis
  std::optional<double> batch_kg{};        ///< sum of all portions and the binder
  std::vector<WeighedPortion> portions{};  ///< largest first
  std::optional<WeighedBinder> binder{};   ///< empty without a blend
  std::optional<double> exact_cost{};      ///< of the cheapest blend off the grid; per ha or per t
  std::optional<double> cost{};            ///< of this one
  std::optional<double> blending_cost_per_batch{};  ///< the blender's fee for the batch
  /// True: every rule is kept. False: no blend on the grid keeps them all, or none was found
  /// before the limit; then this is the nearest and `violations` names every rule that gives way.
  bool feasible = false;
  /// True: nothing on the grid that obeys is cheaper, or when none obeys, none is nearer.
  bool proved = false;
  /// True: it is proved that no blend on the grid keeps every rule, whether or not it is also
  /// proved that none is nearer than this one.
  bool proven_infeasible = false;
  /// No blend on the grid that keeps all rules costs less; empty when nothing is proved.
  std::optional<double> lower_bound{};
  std::vector<RuleViolation> violations{};  ///< empty when it obeys
  std::vector<Supply> supply{};             ///< of what is weighed, binder included in the product
  std::vector<Note> notes{};                ///< cautions and remarks, for the blend as weighed
  long solves = 0;                          ///< linear programs solved
  Outcome outcome{};                        ///< complete, without a blend, or stopped
};

/// Finds the cheapest blend whose every portion, binder included, is a whole number of steps.
///
/// Branch and bound on the amounts over the either-or rules; each linear program is verified, and
/// the result is held against every rule again with the binder as weighed. In the per-tonne basis
/// the portions and the binder add up to the batch exactly.
/// Where no blend on the grid keeps every rule, the nearest is the one with the least sum of
/// relative violations (a tenth of a percent weighs as much as the whole cost); the total of
/// a batch, either-or rules and forms never give way.
/// Throws: std::invalid_argument for a step or batch that is not above 0 or is above 1e9, a batch
/// given for the other basis, or a batch in kg that is no whole number of steps.
[[nodiscard]] LEASTWISE_API RoundedBlend round_to_step(const Scenario& scenario,
                                                       const RoundingOptions& options = {});

}  // namespace leastwise
