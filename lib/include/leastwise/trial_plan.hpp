#pragma once
#include <leastwise/formulate.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/note.hpp>
#include <leastwise/trial.hpp>

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

// Masses that must add up are whole milligrams (`_mg`): every balance reads whole milligrams, so
// plots + spare = batches = materials holds exactly, not to within some error.

/// What a material does in a load.
enum class Role { granule, powder, binder };

[[nodiscard]] std::string_view to_string(Role role);

/// How much of one material goes into a load, and how it is weighed.
struct Weighing {
  std::string material{};
  Role role = Role::granule;
  double target_g = 0;       ///< before rounding
  std::int64_t mass_mg = 0;  ///< as weighed: a multiple of the balance's readability
  std::string balance{};
  std::int64_t readability_mg = 1;
  std::vector<std::int64_t> parts_mg{};  ///< one, or several where no balance carries it at once
};

/// Whether a limit is met by masses that were rounded or weighed.
enum class Verdict {
  holds,
  within_one_percent,  ///< missed by no more than 1 % of the limit
  broken,
};

[[nodiscard]] std::string_view to_string(Verdict verdict);

/// One rule of the treatment's scenario against a load.
struct RuleCheck {
  std::string rule{};  ///< `rate N min`, `coating max`
  double limit = 0;
  double value = 0;
  std::string unit{};
  double missed_percent = 0;  ///< of the limit; 0 when it holds
  Verdict verdict = Verdict::holds;
};

/// What a nutrient comes to after rounding, or after weighing.
struct NutrientCheck {
  std::string nutrient{};
  double planned_kg_per_ha = 0;
  double achieved_kg_per_ha = 0;
  double deviation_percent = 0;  ///< of the plan
  /// The worst that rounding to the balances could do to it, percent.
  double readability_percent = 0;
  Limits rate_kg_per_ha{};  ///< what the scenario asks, if anything
};

/// One step of a stepwise dilution: weigh both, mix until even.
struct DilutionStep {
  std::int64_t powder_mg = 0;   ///< of the powder itself, then of the mix of the step before
  std::int64_t carrier_mg = 0;  ///< of the carrier
};

/// A powder that is too little for the balance, thinned out until it can be weighed.
///
/// The least mass weighed is 50 times the readability, so that half a digit is 1 %. One part in
/// `parts` per step, at most 10 (common practice: more cannot be mixed evenly at once).
struct Premix {
  std::string material{};
  std::string carrier{};  ///< another powder of the load; empty: an inert fine powder
  int parts = 1;          ///< dilution of each step
  std::vector<DilutionStep> steps{};
  std::int64_t take_mg = 0;   ///< of the last mix, into each load
  std::int64_t holds_mg = 0;  ///< how much of the powder that holds
  /// How much carrier that brings: less of it is weighed in, or so much is added to the load.
  std::int64_t carrier_mg = 0;
};

/// The powders of a load on its granules.
struct Coating {
  std::int64_t powder_mg = 0;
  std::int64_t binder_mg = 0;
  std::string binder{};  ///< empty: unnamed
  double binder_ml = 0;
  double binder_density_kg_per_l = 0;
  std::string density_source{};  ///< `as stated`, `table`, or `assumed`
  double binder_g_per_kg_powder = 0;
  double load_g_per_kg = 0;  ///< powder and binder per kg of granules
  double percent = 0;        ///< the same in percent
  double max_percent = 0;
};

struct Step {
  std::string text{};
  int minutes = 0;  ///< about; 0 when it takes as long as it takes
};

enum class TreatmentState {
  planned,     ///< has a product
  nothing,     ///< a control: plots without product
  infeasible,  ///< no blend obeys every rule; `answer` says why
  stopped,     ///< the search for a blend ended early; `answer` says why
};

[[nodiscard]] std::string_view to_string(TreatmentState state);

/// Everything about the product of one treatment. All its loads are alike.
struct TreatmentPlan {
  std::string name{};
  std::string code{};
  TreatmentState state = TreatmentState::nothing;
  std::optional<Formulation> answer{};  ///< there for a treatment that was solved
  double area_m2 = 0;
  std::size_t plots = 0;
  double product_kg_per_ha = 0;

  std::int64_t packs_mg = 0;  ///< what the plots get
  std::int64_t spare_mg = 0;  ///< total less packs; at least the spare percent
  std::int64_t total_mg = 0;  ///< loads times `load_mg`
  std::string mixer{};
  MixerKind mixer_kind = MixerKind::bucket;
  double bulk_density_kg_per_m3 = 0;
  std::int64_t load_mg = 0;                ///< the sum of `weighings`
  std::vector<std::string> batch_codes{};  ///< one for each load
  std::vector<Weighing> weighings{};       ///< granules, powders, binder; each largest first

  std::vector<NutrientCheck> nutrients{};
  std::vector<RuleCheck> rules{};
  std::optional<Coating> coating{};
  std::vector<Premix> premixes{};
  std::vector<Note> stop_conditions{};  ///< to be settled before anything is weighed
  std::vector<Step> order_of_work{};
  std::vector<Note> notes{};
  std::vector<std::string> cautions{};
};

/// One container of the product of a plot, with the code on its label.
struct Pack {
  std::string label{};
  std::int64_t mass_mg = 0;
};

struct Plot {
  std::string code{};    ///< on the label of its only container; of several, `CODE/1`, `CODE/2` ...
  std::size_t site = 0;  ///< into `TrialPlan::sites`
  std::size_t treatment = 0;  ///< into `TrialPlan::treatments`
  int replicate = 1;
  int number = 101;
  double area_m2 = 0;
  std::vector<Pack> packs{};  ///< none without a product
  std::string container{};
  std::string balance{};
};

/// What to buy of one material.
struct Purchase {
  std::string material{};
  std::int64_t need_mg = 0;   ///< what ends up on the plots
  std::int64_t spare_mg = 0;  ///< what ends up as spare product
  std::optional<double> bag_kg{};
  std::int64_t bags = 0;  ///< 0 when no bag size is known
  double bought_kg = 0;   ///< whole bags, or just the need and the spare
  double left_over_kg = 0;
  double price_per_t = 0;  ///< with freight
  double cost = 0;
};

/// The plan of a trial: what to weigh, mix, pack, label and buy.
struct TrialPlan {
  std::string title{};
  std::string code{};
  std::string currency{};
  std::optional<std::uint64_t> seed{};
  double spare_percent = 0;
  std::vector<Site> sites{};
  std::vector<TreatmentPlan> treatments{};
  std::vector<Plot> plots{};  ///< by site, replicate and number
  std::vector<Purchase> purchases{};
  double purchase_cost = 0;
  std::vector<Note> notes{};
  std::vector<std::string> store_keeping{};
  std::vector<std::string> cautions{};

  /// True when every treatment has its product or needs none.
  [[nodiscard]] bool complete() const;
};

/// Plans `trial`: solves each treatment, rounds to the balances, lays out the plots.
///
/// The time limit of `options` is for the whole call; `intervals` asks for the nearest blend of a
/// treatment that has none.
/// Returns: always a plan; a treatment without a blend says so in its `state`.
/// Thread safety: safe on any threads. Deterministic: equal input gives the same plan everywhere.
[[nodiscard]] TrialPlan plan_trial(const Trial& trial, const FormulateOptions& options = {});

}  // namespace leastwise
