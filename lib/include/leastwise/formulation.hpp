#pragma once
#include <leastwise/diagnostic.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/material.hpp>
#include <leastwise/note.hpp>
#include <leastwise/scenario.hpp>

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace leastwise {

// Signs. Cost is minimised. The shadow price of a rule is d(cost)/d(limit): how much the cost
// rises when the limit is raised by one of the user's units. A minimum that binds has a shadow
// price >= 0 (asking for more costs more), a maximum that binds one <= 0 (allowing more saves).
// Worked: urea 46 % N at 460 per t, N min 46 kg/ha. Cost = 460/1000 * N/0.46 = N, so the shadow
// price of `rate N min` is +1 per kg/ha.
//
// Cost is per hectare in the per-hectare basis and per tonne of product in the per-tonne basis;
// `unit` says which. Optional amounts are empty where the basis does not define them.

/// How much of one material the blend takes.
struct Portion {
  std::string material{};
  Form form = Form::granule;  ///< the form in which it enters: granule or powder
  std::optional<double> kg_per_ha{};
  double kg_per_t = 0;    ///< per tonne of finished product
  double cost_per_t = 0;  ///< its price and freight in a tonne of product
  std::optional<double> cost_per_ha{};
};

/// How much of one nutrient or property the blend supplies.
struct Supply {
  std::string nutrient{};
  std::optional<double> kg_per_ha{};            ///< all that is there
  std::optional<double> effective_kg_per_ha{};  ///< what a minimum counts: granular factor applied
  double percent = 0;                           ///< of the product, by mass
  Limits rate_kg_per_ha{};                      ///< what the scenario asks, if anything
  Limits grade_percent{};
};

/// A rule that stops the blend from being cheaper, and what it costs.
struct BindingRule {
  std::string rule{};                   ///< `rate N min`, traceable to the user's file
  double limit = 0;                     ///< in the user's units
  double shadow_price = 0;              ///< currency per `unit`, sign as above
  std::string unit{};                   ///< `USD/ha per kg/ha`
  std::optional<double> holds_from{};   ///< the price stays the same for limits in [from, to];
  std::optional<double> holds_to{};     ///< empty: no end on that side, or intervals not asked for
  std::optional<double> price_below{};  ///< price just below the limit; empty: no blend there
  std::optional<double> price_above{};  ///< price just above the limit; empty: no blend there
  bool unique = true;  ///< false: the limit sits on a kink, this is one of several valid prices
  Place place{};
};

/// A material the blend leaves out.
struct UnusedMaterial {
  std::string material{};
  double price_per_t = 0;                            ///< as stated, without freight
  std::optional<double> enters_below_price_per_t{};  ///< empty: at no price, or not asked for
  std::string why{};  ///< `price`, `form`, `exclusion`, `bins`, `minimum if used`, `limits`
};

/// A pair kept apart that would make the blend cheaper if it were not.
struct ExclusionCost {
  std::string family_a{};
  std::string family_b{};
  std::string reason{};
  double costs_per_t = 0;
  std::optional<double> costs_per_ha{};
};

/// Where the money goes beside the portions.
struct CostBreakdown {
  double materials_per_t = 0;
  double freight_per_t = 0;
  double binder_per_t = 0;
  double blending_per_t = 0;
};

/// The binder the coating needs.
struct BinderUse {
  std::string material{};  ///< empty: unnamed
  std::optional<double> kg_per_ha{};
  double kg_per_t = 0;
  double cost_per_t = 0;
};

/// How well the answer was proved; every figure is relative to the size of the row or cost.
struct Certificate {
  double primal_violation = 0;  ///< worst violated limit
  double dual_violation = 0;    ///< worst reduced cost of the wrong sign
  double gap = 0;               ///< cost minus proved lower bound
  long nodes = 1;               ///< linear programs the proof rests on
};

/// A proven least-cost blend.
struct Blend {
  std::string title{};
  std::string currency{};
  Basis basis = Basis::per_tonne;
  std::optional<double> cost_per_ha{};
  double cost_per_t = 0;
  std::optional<double> total_kg_per_ha{};
  std::vector<Portion> portions{};  ///< largest first
  BinderUse binder{};               ///< kg_per_t is 0 without powders
  CostBreakdown breakdown{};
  std::vector<Supply> supply{};
  std::vector<BindingRule> binding{};
  std::vector<UnusedMaterial> unused{};
  std::vector<ExclusionCost> exclusions{};
  std::vector<Note> notes{};
  Certificate certificate{};
};

/// One rule of a conflict.
struct ConflictingRule {
  std::string rule{};
  std::optional<double> limit{};      ///< empty for an either-or rule
  std::optional<double> shortfall{};  ///< how far this one alone must give way, the others of the
                                      ///< conflict kept; empty: it cannot end the conflict alone
  std::string unit{};
  std::string detail{};  ///< for an either-or rule: the reason
  Place place{};
};

/// A limit to change, and to what.
struct Change {
  std::string rule{};
  double from = 0;
  double to = 0;
  std::string unit{};
  Place place{};
};

/// No blend can obey every rule.
struct Conflict {
  std::string title{};
  std::string currency{};
  Basis basis = Basis::per_tonne;
  std::vector<ConflictingRule> rules{};
  bool irreducible = false;       ///< true: drop any one of `rules` and the rest agree
  std::vector<Change> nearest{};  ///< least relative change of limits that makes a blend possible
  std::optional<double> nearest_cost_per_t{};  ///< cost of the best blend after `nearest`
  std::optional<double> nearest_cost_per_ha{};
  std::vector<Note> notes{};
};

/// Why the search ended without an answer.
enum class StopCause { time_limit, cancelled, numerical };

[[nodiscard]] std::string_view to_string(StopCause cause);

/// The search ended before a proof. The best blend so far obeys every rule but may not be cheapest.
struct Stopped {
  std::string title{};
  std::string currency{};
  Basis basis = Basis::per_tonne;
  StopCause cause = StopCause::numerical;
  std::string detail{};
  std::optional<double> best_cost{};    ///< per ha or per t, by basis; a checked blend has it
  std::optional<double> lower_bound{};  ///< no blend is cheaper; same unit
  std::vector<Portion> best_portions{};
  std::vector<Note> notes{};
};

enum class Status { optimal, infeasible, stopped };

[[nodiscard]] std::string_view to_string(Status status);

/// The answer to a scenario: exactly one of a blend, a conflict, or a stop.
class Formulation {
 public:
  Formulation(Blend blend) : answer_(std::move(blend)) {}           // NOLINT(*-explicit-*)
  Formulation(Conflict conflict) : answer_(std::move(conflict)) {}  // NOLINT(*-explicit-*)
  Formulation(Stopped stopped) : answer_(std::move(stopped)) {}     // NOLINT(*-explicit-*)

  [[nodiscard]] Status status() const { return static_cast<Status>(answer_.index()); }
  [[nodiscard]] const Blend* blend() const { return std::get_if<Blend>(&answer_); }
  [[nodiscard]] const Conflict* conflict() const { return std::get_if<Conflict>(&answer_); }
  [[nodiscard]] const Stopped* stopped() const { return std::get_if<Stopped>(&answer_); }

 private:
  std::variant<Blend, Conflict, Stopped> answer_;
};

}  // namespace leastwise
