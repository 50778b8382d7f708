#pragma once
#include <leastwise/export.h>
#include <leastwise/formulate.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/limits.hpp>
#include <leastwise/note.hpp>
#include <leastwise/rule_id.hpp>
#include <leastwise/trial.hpp>
#include <leastwise/trial_hold.hpp>
#include <leastwise/trial_load_rule.hpp>
#include <leastwise/trial_mix.hpp>
#include <leastwise/trial_recipe.hpp>
#include <leastwise/trial_spray.hpp>

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

// Masses that must add up are whole milligrams (`_mg`): every balance reads whole milligrams, so
// plots + spare = batches = materials holds exactly, not to within some error.

/// How much of one material goes into a load, and how it is weighed.
struct Weighing {
  std::string material{};                ///< its name, or the code of a stock mix
  std::optional<std::size_t> mix{};      ///< into `TrialPlan::mixes`, where it is one
  Role role = Role::granule;             ///< what it does in the load
  double target_g = 0;                   ///< before rounding
  std::int64_t mass_mg = 0;              ///< as weighed: a multiple of the balance's readability
  std::string balance{};                 ///< its name
  std::int64_t readability_mg = 1;       ///< of that balance
  std::vector<std::int64_t> parts_mg{};  ///< one, or several where no balance carries it at once
};

/// Whether a limit is met by masses that were rounded or weighed.
enum class Verdict {
  holds,               ///< met, to within rounding of a double
  within_one_percent,  ///< missed by no more than 1 % of the limit
  broken,              ///< missed by more
};

/// The spelling used in reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Verdict verdict);

/// One rule of the treatment's scenario against a load.
struct RuleCheck {
  std::string rule{};  ///< `rate N min`, `coating max`
  RuleId id{};         ///< the same as a value
  double limit = 0;    ///< in `unit`
  /// What the masses come to. With a confidence, what is sure of it: each content less (a minimum)
  /// or more (a maximum) the safety margin. Infinite where a ratio has nothing to be measured
  /// against. Of families kept apart: how many of the two are there.
  double value = 0;
  LimitUnit unit = LimitUnit::none;    ///< of both
  std::optional<double> confidence{};  ///< as asked: the share of lots in which it must hold
  double missed_percent = 0;           ///< of the limit; 0 when it holds
  Verdict verdict = Verdict::broken;   ///< whether it is kept
};

/// What a nutrient comes to after rounding, or after weighing.
struct NutrientCheck {
  std::string nutrient{};         ///< its name
  double planned_kg_per_ha = 0;   ///< by the blend, before rounding
  double achieved_kg_per_ha = 0;  ///< by the masses
  double sprayed_kg_per_ha = 0;   ///< the part of that which is sprayed on
  double deviation_percent = 0;   ///< of the plan
  /// The worst that rounding to the balances could do to it, percent.
  double readability_percent = 0;
  Limits rate_kg_per_ha{};  ///< what the scenario asks, if anything
};

/// The powders of a load on its granules.
struct Coating {
  std::int64_t powder_mg = 0;          ///< all powders of a load
  std::int64_t binder_mg = 0;          ///< as weighed
  std::string binder{};                ///< empty: unnamed
  double binder_ml = 0;                ///< the same by volume
  double binder_density_kg_per_l = 0;  ///< kg per litre
  std::string density_source{};        ///< `as stated`, `table`, or `assumed`
  double binder_g_per_kg_powder = 0;   ///< as the scenario has it
  double load_g_per_kg = 0;            ///< powder and binder per kg of granules
  double percent = 0;                  ///< the same in percent
  double max_percent = 0;              ///< what the scenario allows
};

/// One step of the order of work.
struct Step {
  std::string text{};  ///< what to do, in plain words
  int minutes = 0;     ///< about; 0 when it takes as long as it takes
};

/// How far the plan of a treatment came.
enum class TreatmentState {
  planned,      ///< has a product
  nothing,      ///< a control: plots without product
  unweighable,  ///< no load was found that these balances can weigh and that keeps every rule to
                ///< within 1 %
  infeasible,   ///< no blend obeys every rule; `answer` says why
  stopped,      ///< the search for a blend ended early; `answer` says why
};

/// The spelling used in reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(TreatmentState state);

/// Everything about the product of one treatment, or of one application of a split one. All its
/// loads are alike.
struct TreatmentPlan {
  std::string name{};            ///< of the treatment
  std::string code{};            ///< on labels
  std::size_t application = 0;   ///< into `TrialPlan::applications`
  bool again = false;            ///< a later application of the one before
  std::string treatment{};       ///< the treatment this is a product of; `name` unless split
  std::string treatment_code{};  ///< its code
  std::string mixed_on{};        ///< day of the application, else that of the trial; may be empty
  TreatmentState state = TreatmentState::stopped;  ///< how far it came
  std::optional<Formulation> answer{};             ///< there for a treatment that was solved
  double area_m2 = 0;                              ///< of all its plots
  std::size_t plots = 0;                           ///< on all sites
  double product_kg_per_ha = 0;                    ///< granules, powders, carrier and binder
  Recipe recipe{};                                 ///< kg/ha and cost of each material
  std::vector<PlotGroup> by_size{};                ///< its plots: what each size gets

  std::int64_t packs_mg = 0;                 ///< what the plots get
  std::int64_t spare_mg = 0;                 ///< total less packs; at least the spare percent
  std::int64_t total_mg = 0;                 ///< loads times `load_mg`
  std::string mixer{};                       ///< its name
  MixerKind mixer_kind = MixerKind::bucket;  ///< how it works
  double bulk_density_kg_per_m3 = 0;         ///< of the product
  std::int64_t load_mg = 0;                  ///< the sum of `weighings`
  std::vector<std::string> batch_codes{};    ///< one for each load
  std::vector<Weighing> weighings{};         ///< granules, powders, binder; each largest first

  std::vector<Spray> sprays{};  ///< powders that are sprayed on beside the product

  std::vector<NutrientCheck> nutrients{};  ///< by the masses
  std::vector<RuleCheck> rules{};          ///< every rule of its scenario
  std::optional<Coating> coating{};        ///< where there are powders
  std::vector<LoadRule> load_rules{};      ///< the same rules for what is really weighed
  std::vector<MassRange> ranges{};         ///< of each weighing; none where a rule is broken
  /// How far chance moves the share of each granular material on the smallest plot.
  std::vector<ShareVariation> variation{};
  std::vector<Note> stop_conditions{};  ///< to be settled before anything is weighed
  std::vector<Step> order_of_work{};    ///< what to do, in order
  std::vector<Note> notes{};            ///< what to mind
  std::vector<Note> cautions{};         ///< for the people who mix, by what is in a load
  std::vector<Note> hazards{};          ///< the same in a few words, worst first: for labels
  bool same_day = false;                ///< must be spread on the day it is mixed
  std::string spread_by{};              ///< last day, `2026-04-03`; empty: not known
};

/// What a pack takes of one load.
struct PackSource {
  std::size_t load = 0;      ///< into `batch_codes`
  std::int64_t mass_mg = 0;  ///< of product
};

/// One container of the product of a plot, with the code on its label.
struct Pack {
  std::string label{};                ///< its code
  std::int64_t mass_mg = 0;           ///< of product
  std::size_t first_load = 0;         ///< into `batch_codes`: where its product comes from
  std::size_t last_load = 0;          ///< the same load, or a later one where one does not fill it
  std::vector<PackSource> sources{};  ///< what it takes of each load, in order
};

/// A plot of the layout that is no part of the data.
enum class StripKind {
  none,      ///< it is a plot like others
  headland,  ///< where machines turn, before the first or behind the last row
  border,    ///< the strip all round the site
};

/// The spelling used in reports: `plot` for none.
[[nodiscard]] LEASTWISE_API std::string_view to_string(StripKind kind);

/// One plot of the layout, with what it gets. A plot that gets something at several applications
/// stands once for each of them.
struct Plot {
  /// On the label of its only container; of several, `CODE/1`, `CODE/2` ... With applications
  /// labels are `CODE-A1`, `CODE-A2` ...
  std::string code{};
  std::size_t site = 0;               ///< into `TrialPlan::sites`
  std::size_t treatment = 0;          ///< into `TrialPlan::treatments`
  int replicate = 1;                  ///< from 1, within its site
  int block = 0;                      ///< whole plot or incomplete block in it, from 1; 0: none
  std::size_t application = 0;        ///< into `TrialPlan::applications`
  bool again = false;                 ///< stands above already, with an earlier application
  bool guard = false;                 ///< beyond the ends of a row, or a strip; no part of the data
  StripKind strip = StripKind::none;  ///< headland or border
  int number = 101;                   ///< replicate times 100 and the place in it
  int row = 1;                        ///< on the map, from 1, from the corner of the first plot
  int column = 1;                     ///< the same across
  double area_m2 = 0;                 ///< square metres
  std::vector<Pack> packs{};          ///< none without a product
  std::vector<PlotSpray> sprays{};    ///< what is sprayed on it beside its product
  std::string container{};            ///< what its packs are
  std::string balance{};              ///< what they are weighed on
  std::int64_t readability_mg = 1;    ///< of that balance
};

/// What to buy of one material.
struct Purchase {
  std::string material{};          ///< its name
  std::int64_t need_mg = 0;        ///< what ends up on the plots
  std::int64_t spare_mg = 0;       ///< what ends up as spare product
  std::int64_t mix_rest_mg = 0;    ///< what is left over in stock mixes
  double stock_kg = 0;             ///< at hand, as the trial states it
  double from_stock_kg = 0;        ///< taken of that
  std::optional<double> bag_kg{};  ///< size of a bag, if known
  std::int64_t bags = 0;           ///< 0 when no bag size is known
  double bought_kg = 0;            ///< whole bags, or just what the stock does not cover
  double left_over_kg = 0;         ///< bought or in stock, but in no product and no mix
  double price_per_t = 0;          ///< with freight
  double cost = 0;                 ///< of what is bought
};

/// The plan of a trial: what to weigh, mix, pack, label and buy.
struct TrialPlan {
  std::string title{};                        ///< of the trial
  std::string code{};                         ///< start of every label code
  std::string currency{};                     ///< a label
  std::optional<std::uint64_t> seed{};        ///< of the layout, if randomised
  std::string mixed_on{};                     ///< as stated; may be empty
  double spare_percent = 0;                   ///< as asked
  LabelLayout labels{};                       ///< as asked
  std::vector<Application> applications{};    ///< as asked; empty: everything at once
  std::optional<Spreader> spreader{};         ///< as asked
  std::vector<DayTask> day_plan{};            ///< the loads in the order of mixing
  double sample_g = 0;                        ///< kept of each load, on top of the spare
  std::vector<Site> sites{};                  ///< as asked
  std::vector<TreatmentPlan> treatments{};    ///< in the order of the trial
  std::vector<Plot> plots{};                  ///< by site, replicate and number; again at the end
  std::vector<StockMix> mixes{};              ///< to be made before any load
  std::optional<HoldPlan> hold{};             ///< where treatments were solved together
  std::vector<ComparedNutrient> nutrients{};  ///< every nutrient over all treatments
  std::vector<TreatmentTotal> totals{};       ///< of every treatment, over its applications
  /// Of treatments, weighings and layout: a list of what was weighed that states another was
  /// written for another plan. Eight hexadecimal digits.
  std::string fingerprint{};
  std::vector<Purchase> purchases{};         ///< by material
  double purchase_cost = 0;                  ///< all purchases together
  std::vector<Note> notes{};                 ///< what to mind
  std::vector<std::string> store_keeping{};  ///< how to keep goods and products
  std::vector<std::string> cautions{};       ///< for everyone on the trial

  /// True when every treatment has its product or needs none; false without treatments.
  [[nodiscard]] LEASTWISE_API bool complete() const;
};

/// Plans `trial`: solves each treatment, rounds to the balances, lays out the plots.
///
/// The time limit of `options` is for the whole call; `intervals` asks for the nearest blend of a
/// treatment that has none.
/// Returns: always a plan; a treatment without a blend says so in its `state`.
/// Thread safety: safe on any threads. Deterministic: equal input gives the same plan everywhere.
[[nodiscard]] LEASTWISE_API TrialPlan plan_trial(const Trial& trial,
                                                 const SolveOptions& options = {});

}  // namespace leastwise
