#pragma once
#include <leastwise/export.h>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// How much attention a note asks for.
enum class NoteLevel {
  info,     ///< good to know
  caution,  ///< mind it while working
  warning,  ///< probably not what was meant
};

/// `info`, `caution`, `warning`: the spelling of reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(NoteLevel level);

/// What a note is about, for code: a program, a sheet or a label acts on this and never on the
/// words. More may be added; the spelling of one never changes.
enum class NoteCode {
  other,                       ///< a note of the caller's own
  batch_short,                 ///< a weighed batch does not fill its packs
  binder_by_drop,              ///< so little binder that it is counted in drops
  binder_reacts,               ///< a binder that reacts with what it coats
  binder_stated_inorganic,     ///< only the scenario says that the binder is no fuel
  binder_unnamed,              ///< powders, and no binder is named
  binder_unusual,              ///< binder outside the usual share of the powder
  bucket_load,                 ///< a load too heavy for a bucket
  catalogue_replaced,          ///< the scenario's own material replaces the catalogue's
  coating_over_limit,          ///< more powder and binder than the granules carry
  confidence_changes_nothing,  ///< a confidence, and no material states a spread
  confidence_margins,          ///< how a stated confidence is applied
  confidence_of_limit,         ///< how sure one limit is
  critical_humidity,           ///< from which humidity the mix draws water
  currencies_differ,           ///< lines in several currencies
  declaration_short,           ///< contents too small for the label rules as a whole
  density_assumed,             ///< no bulk density is stated
  differs_unasked,             ///< a nutrient that treatments differ in though nothing asks for it
  dust,                        ///< powders, whose dust harms lungs, eyes and skin
  few_granules,                ///< chance alone moves a share from plot to plot
  family_unknown,              ///< a family that the compatibility table does not know
  few_draws,                   ///< too few draws or dates for the outer quantiles
  first_line_without_blend,    ///< nothing to compare with
  form_kept_out,               ///< crystals or fines that enter no blend
  forms_follow,                ///< forms that keep their share of a nutrient with another content
  granular_factor,             ///< the factor of micronutrient granules has its part in a conflict
  grind_first,                 ///< a material to be ground to powder before use
  humidity_unknown,            ///< a limit on humidity, and materials that no table has
  keep_dry,                    ///< how long and how the mix keeps
  label_tolerance,             ///< a declared minimum lowered by a published tolerance
  left_out_by_humidity,        ///< materials that draw water below the stated humidity
  left_out_by_size,            ///< granules outside of the stated sizes
  limited_compatibility,       ///< two families that should not be stored mixed
  loads_meet,                  ///< packs that are filled from more than one load
  load_over_capacity,          ///< a load that the mixer does not hold
  maybe_fraction,              ///< contents that look like fractions where percent is meant
  maximum_always_met,          ///< a maximum on what no material contains
  metric_figures,              ///< an answer in kg to a scenario in US units
  mixer_at_work,               ///< what a mixer can do to the people beside it
  must_not_be_kept,            ///< mix and spread on the same day
  nature_stated,               ///< only a stated family says that a material is no fuel
  name_taken_as_property,      ///< a name that looks like a misspelt nutrient
  no_binder_weighed,           ///< powders, and too little binder to weigh
  no_compatibility_rule,       ///< a material on which the compatibility table is silent
  no_seed,                     ///< plots are not in random order
  no_spare,                    ///< nothing is mixed beyond what the packs take
  not_finished,                ///< stopped before everything about the answer was found
  nothing_asked,               ///< a treatment without product
  nothing_weighed,             ///< a batch without any weighed amount
  oxidizer,                    ///< a material that feeds a fire
  oxidizer_without_rules,      ///< an oxidizer that the compatibility table does not know
  pack_rounded,                ///< a pack that its balance rounds by more than 1 %
  pair_without_effect,         ///< a stated pair of a family that no material is of
  powder_check,                ///< look at a powder before use
  price_far_off,               ///< a price a hundred times below or above the others
  price_of_no_material,        ///< a price list names what the scenario has not
  published_figures,           ///< what a salt index says, and what it does not
  rate_above_usual,            ///< more of a micronutrient than is usual
  rate_below_usual,            ///< less of a micronutrient than is usual
  rounding_shift,              ///< the balance moves a nutrient
  rule_lifted,                 ///< the scenario lifts a rule that keeps two families apart
  size_unknown,                ///< granules without a stated size
  sizes_differ,                ///< granules that segregate by size
  sprayed_on,                  ///< a powder that is dissolved and sprayed on the plots
  spread_at_most,              ///< how much of a product brings the usual rate of a micronutrient
  stock_mix_first,             ///< a mix to be made before the loads that take from it
  stock_without_make,          ///< a stock, and no amount to make
  supply_over_asked,           ///< more than twice a minimum
  toxic_element,               ///< an element that harms above a narrow rate
  trace_not_stated,            ///< a maximum on a trace that goods hold and do not state
  uniformity_unusual,          ///< granules of an unusual uniformity index
};

/// The spelling of reports, in words joined by hyphens: `batch-short`, `toxic-element`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(NoteCode code);
/// The code of that spelling; nothing when there is none.
[[nodiscard]] LEASTWISE_API std::optional<NoteCode> note_code(std::string_view spelling);

/// A remark that goes with an answer.
struct Note {
  NoteLevel level = NoteLevel::info;    ///< how much attention it asks for
  NoteCode code = NoteCode::other;      ///< what it is about
  std::vector<std::string> subjects{};  ///< the materials, families, elements or rules it speaks of
  std::string text{};                   ///< one or more plain sentences
  std::string source{};                 ///< of the rule behind it; empty where none is needed
  /// What `text` says of its subjects alone, without what to do; empty where it is not said apart.
  /// Pages list notes of one code together by it.
  std::string reason{};

  /// Equal in every field.
  friend bool operator==(const Note&, const Note&) = default;
};

}  // namespace leastwise
