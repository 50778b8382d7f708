#pragma once
#include <leastwise/trial_check.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::report {

// Masses and phrases that all reports of a trial share.

/// A mass in grams, exactly: `1234.5`, `0.02`, `7`.
[[nodiscard]] std::string exact_grams(std::int64_t mg);

/// A mass as the balance shows it: `812.4 g`, `4.235 kg`; kilograms from 1000 g up where the
/// balance reads whole grams.
[[nodiscard]] std::string mass_text(std::int64_t mg, std::int64_t readability_mg);

/// A mass to read at a glance: grams below 1 kg, else kilograms; up to five digits.
[[nodiscard]] std::string round_mass_text(std::int64_t mg);

/// The mass of a load or of plots, exact, in kg: `10.8742 kg`.
[[nodiscard]] std::string exact_kg(std::int64_t mg);

/// The same in grams below 1 kg: what stands on a label.
[[nodiscard]] std::string exact_mass(std::int64_t mg);

/// The name of a weighed material; binders without a name are called `binder`.
[[nodiscard]] std::string material_name(const Weighing& weighing);

/// In which unit a balance shows a mass, as `mass_text`: `g` or `kg`.
[[nodiscard]] std::string_view unit_of(std::int64_t mass_mg, std::int64_t readability_mg);

/// What a weighing is in a stock mix: `powder`, `carrier`, `stock mix`.
[[nodiscard]] std::string_view role_in_mix(const StockMix& mix, const MixWeighing& weighing);

/// `in 3 weighings: 20.0 + 20.0 + 12.5 kg`; empty for one weighing.
[[nodiscard]] std::string parts_text(const Weighing& weighing);

/// `60 to 66`, `at least 46`, `exactly 30`; empty when nothing is asked.
[[nodiscard]] std::string asked_text(const Limits& limits);

/// A percentage with its sign: `+0.12 %`.
[[nodiscard]] std::string signed_percent(double percent);

/// Whether a limit and a value say what the rule comes to: not of families kept apart, nor where
/// there is nothing that a ratio could be measured against.
[[nodiscard]] bool has_figures(const RuleCheck& rule);

/// How far a rule that does not hold is missed: `missed by 1.3 %`.
[[nodiscard]] std::string miss_text(const RuleCheck& rule);

/// What a rule that does not hold comes to: `rate N min: 59.2 of 60 kg/ha, missed by 1.3 %`.
[[nodiscard]] std::string missed_text(const RuleCheck& rule);

/// The figures of a coating, one a line.
[[nodiscard]] std::vector<std::string> coating_lines(const Coating& coating);

/// kg in the digits of bags: `26.4`, `5.33`, `0.044`, `0.00436`.
[[nodiscard]] std::string bag_kg_text(double kg);

/// `randomised complete blocks, seed 7`.
[[nodiscard]] std::string layout_text(const TrialPlan& plan);

/// `12 loads of 9.5 kg` or `one load of 9.5 kg`.
[[nodiscard]] std::string loads_text(const TreatmentPlan& plan);

/// `5 treatments, 2 sites, 35 plots`.
[[nodiscard]] std::string size_text(const TrialPlan& plan);

/// Where the rules behind the notes of a plan come from, each once: `Sizes differ: ...`.
[[nodiscard]] std::vector<std::string> sources_of(const TrialPlan& plan);

/// The sentences of notes.
[[nodiscard]] std::vector<std::string> texts_of(const std::vector<Note>& notes);

/// How a sheet opens a stop condition: `STOP` and `CHECK` are settled before anything is weighed,
/// `SAME DAY`, `CAUTION` and `NOTE` are borne in mind.
[[nodiscard]] std::string_view sheet_word(const Note& note);

/// What a plot gets: its mass, `none` for a control, `NOT MADE` where its product could not be.
[[nodiscard]] std::string mass_of_plot_text(const Plot& plot, const TreatmentPlan& treatment);

/// `planned`, `nothing`, `not made`: what a program reads of a plot.
[[nodiscard]] std::string_view state_of_plot(const TreatmentPlan& treatment);

/// `NOT MADE: infeasible`.
[[nodiscard]] std::string not_made_text(TreatmentState state);

/// The batches from `first` to `last`: `ZB-T4-B1`, `ZB-T4-B1 + B2`, `ZB-T4-B1 to B4`.
[[nodiscard]] std::string batches_text(const TreatmentPlan& treatment, std::size_t first,
                                       std::size_t last);

/// The batches of all packs of a plot; empty without a product.
[[nodiscard]] std::string batches_text(const Plot& plot, const TreatmentPlan& treatment);

/// By which day a product must be spread, with a blank where no day of mixing is stated.
[[nodiscard]] std::string spread_by_text(const TreatmentPlan& treatment);

/// `1:05` of 65 minutes.
[[nodiscard]] std::string clock_text(int minutes);

/// The mass of a load in the digits of the coarsest balance it is weighed on.
[[nodiscard]] std::string load_mass_text(const TreatmentPlan& treatment);

/// `1484.0 to 1487.2 g`: between which masses a weighing breaks no rule; empty where nothing is
/// known to limit it.
[[nodiscard]] std::string range_text(const TreatmentPlan& treatment, std::size_t weighing);

/// Masses of all packs of a plot; 0 without a product.
[[nodiscard]] std::int64_t mass_of(const Plot& plot);

}  // namespace leastwise::report
