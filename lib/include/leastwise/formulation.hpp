#pragma once
#include <leastwise/export.h>
#include <leastwise/blend_indices.hpp>
#include <leastwise/declared_analysis.hpp>
#include <leastwise/diagnostic.hpp>
#include <leastwise/known.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/material.hpp>
#include <leastwise/note.hpp>
#include <leastwise/nutrient_cost.hpp>
#include <leastwise/portion.hpp>
#include <leastwise/rule_id.hpp>
#include <leastwise/scenario.hpp>
#include <leastwise/unit_system.hpp>
#include <leastwise/why.hpp>

#include <limits>
#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace leastwise {

/// How much of one nutrient or property the blend supplies.
struct Supply {
  std::string nutrient{};                       ///< nutrient, form or property
  std::optional<double> kg_per_ha{};            ///< all that is there
  std::optional<double> effective_kg_per_ha{};  ///< what a minimum counts: granular factor applied
  double percent = 0;                           ///< of the product, by mass
  Limits rate_kg_per_ha{};                      ///< what the scenario asks, if anything
  Limits grade_percent{};                       ///< the same for the grade, any tolerance taken off
  /// The minimum as the scenario states it, where a label tolerance lowers `grade_percent`.
  std::optional<double> declared_percent{};
};

/// A rule that stops the blend from being cheaper, and what it costs.
///
/// Signs: cost is minimised, and the shadow price of a rule is d(cost)/d(limit): how much the cost
/// rises when the limit is raised by one of the user's units. A minimum that binds has a shadow
/// price >= 0 (asking for more costs more), a maximum that binds one <= 0 (allowing more saves).
/// Worked: urea 46 % N at 460 per t, N min 46 kg/ha. Cost = 460/1000 * N/0.46 = N, so the shadow
/// price of `rate N min` is +1 per kg/ha.
/// Units: cost is per hectare in the per-hectare basis and per tonne of product in the per-tonne
/// basis; `unit` says which.
struct BindingRule {
  std::string rule{};           ///< `rate N min`, traceable to the user's file
  RuleId id{};                  ///< the same as a value
  double limit = 0;             ///< in the user's units
  double shadow_price = 0;      ///< currency per `unit`, sign as above
  std::string unit{};           ///< `USD/ha per kg/ha`
  PriceUnit price_unit{};       ///< the same as a value
  Known<double> holds_from{};   ///< the price stays the same for limits in [from, to];
  Known<double> holds_to{};     ///< none: no end on that side
  Known<double> price_below{};  ///< price just below the limit; none: no blend there
  Known<double> price_above{};  ///< price just above the limit; none: no blend there
  /// False: the limit sits on a kink, and `shadow_price` is one of several valid prices. Empty
  /// while `price_below` or `price_above` is not computed.
  std::optional<bool> unique{};
  Place place{};  ///< of the limit in the file
  /// The minimum as the scenario states it, where a label tolerance lowers it to `limit`. Prices
  /// and intervals are those of the lowered limit: the allowance moves with what is declared.
  std::optional<double> declared{};
};

/// Of which sides of its limit the price is known.
enum class KnownSides {
  none,   ///< neither was looked for
  below,  ///< only the price of less
  above,  ///< only the price of more
  both,   ///< both
};

/// `none`, `below`, `above`, `both`: the spelling of JSON reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(KnownSides sides);
/// Of which sides `rule` states the price, or that there is no blend.
[[nodiscard]] LEASTWISE_API KnownSides known_sides(const BindingRule& rule);

/// A material the blend leaves out.
struct UnusedMaterial {
  std::string material{};  ///< its name
  double price_per_t = 0;  ///< as stated, without freight; of tiers the first
  /// None: at no price from zero up. Of tiers the first, all of them moved by the same.
  Known<double> enters_below_price_per_t{};
  /// `price`, `form`, `exclusion`, `bins`, `minimum if used`, `minimum lot`,
  /// `limits`, `unasked micronutrient`
  std::string why{};
};

/// A pair kept apart that would make the blend cheaper if it were not.
struct ExclusionCost {
  std::string family_a{};                ///< one family
  std::string family_b{};                ///< the other
  std::string reason{};                  ///< in one sentence
  double costs_per_t = 0;                ///< what keeping them apart adds; per tonne
  std::optional<double> costs_per_ha{};  ///< empty in the per-tonne basis
  std::string source{};     ///< of the built-in rule: publication, or `from memory`; may be empty
  std::string lifted_by{};  ///< as `Exclusion::lifted_by`; empty when nothing lifts the rule
};

/// Where the money goes beside the portions.
struct CostBreakdown {
  double materials_per_t = 0;  ///< prices of the materials
  double freight_per_t = 0;    ///< their freight
  double binder_per_t = 0;     ///< the binder
  double blending_per_t = 0;   ///< the blender's fee
};

/// The binder the coating needs.
struct BinderUse {
  std::string material{};             ///< empty: unnamed
  std::optional<double> kg_per_ha{};  ///< empty in the per-tonne basis
  double kg_per_t = 0;                ///< per tonne of finished product
  double cost_per_t = 0;              ///< currency per tonne of product
};

/// What is bought of a material with price tiers, or with a minimum lot, for all that is made.
struct BlendPurchase {
  std::string material{};                 ///< its name
  double tonnes = 0;                      ///< bought, and used
  double price_paid_per_t = 0;            ///< currency per tonne, on the average; without freight
  TierPrice tier_price = TierPrice::all;  ///< what the prices are for
  std::optional<PriceTier> tier{};        ///< the one reached; empty: it has one price
  std::optional<PriceTier> next{};        ///< the one after that; empty: there is none
  double short_of_next_t = 0;             ///< tonnes more would reach it
  /// Currency: so much less, freight included, would be paid for the tonnes that reach `next`
  /// though they are more than the blend takes. 0 where they cost as much or more.
  double saved_by_buying_up = 0;
  std::optional<double> minimum_lot_t{};  ///< the least that is bought at once
};

/// How well the answer was proved; every figure is relative to the size of the row or cost, and not
/// a number where nothing was proved: in blends of maps, lists and conflicts the answer has it.
struct Certificate {
  double primal_violation = std::numeric_limits<double>::quiet_NaN();  ///< worst violated limit
  /// Worst reduced cost of the wrong sign.
  double dual_violation = std::numeric_limits<double>::quiet_NaN();
  double gap = std::numeric_limits<double>::quiet_NaN();  ///< cost minus proved lower bound
  long nodes = 0;                                         ///< linear programs the proof rests on
};

/// A proven least-cost blend. Optional amounts are empty where the basis does not define them.
struct Blend {
  std::string title{};                  ///< of the scenario
  std::string currency{};               ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;       ///< what one unit of the answer stands for
  Units units = Units::metric;          ///< what its pages are written in; all figures are metric
  std::optional<double> cost_per_ha{};  ///< empty in the per-tonne basis
  double cost_per_t = 0;                ///< currency per tonne of product
  std::optional<double> total_kg_per_ha{};     ///< product; empty in the per-tonne basis
  std::vector<Portion> portions{};             ///< largest first
  BinderUse binder{};                          ///< kg_per_t is 0 without powders
  CostBreakdown breakdown{};                   ///< adds up to `cost_per_t`
  std::vector<Supply> supply{};                ///< what the scenario names, then the rest
  std::vector<BlendPurchase> purchases{};      ///< of materials with price tiers or minimum lots
  std::vector<BindingRule> binding{};          ///< the rules that set the price
  bool binding_complete = false;               ///< no rule but those of `binding` costs anything
  std::vector<UnusedMaterial> unused{};        ///< what is left out, and why
  std::vector<ExclusionCost> exclusions{};     ///< pairs whose separation costs money
  bool exclusions_complete = false;            ///< no pair but those of `exclusions` costs anything
  std::vector<CostPart> cost_parts{};          ///< what each rule pays for, the dearest first
  bool cost_parts_add_up = false;              ///< they do, to the cost: checked
  CostPerNutrient cost_per_nutrient{};         ///< what a kg of each nutrient asked for costs
  std::vector<WhyMaterial> why{};              ///< of the materials that `SolveOptions::why` names
  std::optional<DeclaredAnalysis> declared{};  ///< where the scenario says `declare`
  std::optional<BlendIndices> indices{};       ///< where the scenario asks for them or limits one
  std::vector<Note> notes{};                   ///< cautions and remarks
  Certificate certificate{};                   ///< how well it was proved
};

/// One rule of a conflict.
struct ConflictingRule {
  std::string rule{};             ///< its name in reports
  RuleId id{};                    ///< the same as a value
  std::optional<double> limit{};  ///< empty for an either-or rule
  /// How far this one alone must give way, the others of the conflict kept: the smaller of the two
  /// ways of an equality. None: it cannot end the conflict alone, or it is an either-or rule or
  /// a guard.
  Known<double> shortfall{};
  Known<double> ends_below{};  ///< the nearest lower limit that ends the conflict; none: no such
  Known<double> ends_above{};  ///< the nearest higher limit that ends it; none: no such
  LimitUnit unit = LimitUnit::none;  ///< of `limit`; `shortfall` in points for `%`
  std::string detail{};              ///< for an either-or rule and for a guard: the reason
  Place place{};                     ///< in the file
};

/// A limit to change, and to what.
struct Change {
  std::string rule{};                ///< its name in reports
  RuleId id{};                       ///< the same as a value
  double from = 0;                   ///< in `unit`
  double to = 0;                     ///< in `unit`
  LimitUnit unit = LimitUnit::none;  ///< of both
  Place place{};                     ///< of the limit in the file
};

/// No blend can obey every rule.
struct Conflict {
  std::string title{};                   ///< of the scenario
  std::string currency{};                ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;        ///< what one unit of the answer stands for
  Units units = Units::metric;           ///< what its pages are written in; all figures are metric
  std::vector<ConflictingRule> rules{};  ///< cannot hold together
  bool irreducible = false;              ///< true: drop any one of `rules` and the rest agree
  std::vector<Change> nearest{};  ///< a small relative change of limits that makes a blend possible
  /// True: it is proved that no change smaller by more than 1e-5 of it is enough.
  bool nearest_is_least = false;
  Known<Blend> nearest_blend{};  ///< the cheapest blend after `nearest`; none: no change is enough
  std::optional<double> nearest_cost_per_t{};   ///< cost of that blend
  std::optional<double> nearest_cost_per_ha{};  ///< empty in the per-tonne basis
  std::vector<Note> notes{};                    ///< cautions and remarks
};

/// Why the search ended without an answer.
enum class StopCause {
  time_limit,  ///< the caller's limit was reached
  cancelled,   ///< the caller asked to stop
  numerical,   ///< no answer passed its checks: rounding errors, or a model without bound
};

/// `time_limit`, `cancelled`, `numerical`: the spelling of JSON reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(StopCause cause);

/// The search ended before a proof. The best blend so far obeys every rule but may not be cheapest.
struct Stopped {
  std::string title{};             ///< of the scenario
  std::string currency{};          ///< a label, as the scenario states it
  Basis basis = Basis::per_tonne;  ///< what one unit of the answer stands for
  Units units = Units::metric;     ///< what its pages are written in; all figures are metric
  StopCause cause = StopCause::numerical;  ///< for code
  std::string detail{};                    ///< for a person
  std::optional<double> best_cost{};       ///< per ha or per t, by basis; a checked blend has it
  std::optional<double> lower_bound{};     ///< no blend is cheaper; same unit
  std::vector<Portion> best_portions{};    ///< empty when no blend was found yet
  std::vector<Note> notes{};               ///< cautions and remarks
};

/// Which of the three answers it is.
enum class Status {
  optimal,     ///< a proved blend
  infeasible,  ///< a proved conflict
  stopped,     ///< neither is proved
};

/// `optimal`, `infeasible`, `stopped`: the spelling of JSON reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Status status);

/// The answer to a scenario: exactly one of a blend, a conflict, or a stop.
class Formulation {
 public:
  Formulation(Blend blend)               // NOLINT(*-explicit-*)
      : answer_(std::move(blend)) {}     ///< A blend is an answer.
  Formulation(Conflict conflict)         // NOLINT(*-explicit-*)
      : answer_(std::move(conflict)) {}  ///< So is a conflict.
  Formulation(Stopped stopped)           // NOLINT(*-explicit-*)
      : answer_(std::move(stopped)) {}   ///< And so is a search that ended early.

  /// Which of the three it is.
  [[nodiscard]] Status status() const { return static_cast<Status>(answer_.index()); }
  /// The blend; null unless there is one.
  [[nodiscard]] const Blend* blend() const { return std::get_if<Blend>(&answer_); }
  /// The conflict; null unless there is one.
  [[nodiscard]] const Conflict* conflict() const { return std::get_if<Conflict>(&answer_); }
  /// Why the search stopped; null unless it did.
  [[nodiscard]] const Stopped* stopped() const { return std::get_if<Stopped>(&answer_); }

 private:
  std::variant<Blend, Conflict, Stopped> answer_;
};

}  // namespace leastwise
