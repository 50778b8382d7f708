#pragma once
#include <array>
#include <string_view>

/// The stable codes of every error that a scenario can be rejected with, in one list, so that a
/// test can ask whether each is covered by the golden messages.
namespace leastwise::codes {

// Files and YAML.
inline constexpr std::string_view file_missing = "file-missing";
inline constexpr std::string_view file_unreadable = "file-unreadable";
inline constexpr std::string_view file_too_large = "file-too-large";
inline constexpr std::string_view not_text = "not-text";
inline constexpr std::string_view outside_folder = "outside-folder";
inline constexpr std::string_view no_folder = "no-folder";
inline constexpr std::string_view syntax = "syntax";
inline constexpr std::string_view tab_indent = "tab-indent";
inline constexpr std::string_view empty_file = "empty-file";
inline constexpr std::string_view second_document = "second-document";
inline constexpr std::string_view yaml_feature = "yaml-feature";
inline constexpr std::string_view too_deep = "too-deep";
inline constexpr std::string_view bad_table = "bad-table";

// Keys and values.
inline constexpr std::string_view format_version = "format-version";
inline constexpr std::string_view unknown_key = "unknown-key";
inline constexpr std::string_view us_unit = "us-unit";
inline constexpr std::string_view misplaced_key = "misplaced-key";
inline constexpr std::string_view duplicate_key = "duplicate-key";
inline constexpr std::string_view missing_key = "missing-key";
inline constexpr std::string_view wrong_type = "wrong-type";
inline constexpr std::string_view bad_number = "bad-number";
inline constexpr std::string_view bad_choice = "bad-choice";
inline constexpr std::string_view bad_name = "bad-name";
inline constexpr std::string_view duplicate_name = "duplicate-name";
inline constexpr std::string_view out_of_range = "out-of-range";
inline constexpr std::string_view min_over_max = "min-over-max";
inline constexpr std::string_view empty_limits = "empty-limits";
inline constexpr std::string_view exactly_excludes = "exactly-excludes";

// Materials.
inline constexpr std::string_view no_materials = "no-materials";
inline constexpr std::string_view unknown_material = "unknown-material";
inline constexpr std::string_view missing_price = "missing-price";
inline constexpr std::string_view bad_tiers = "bad-tiers";
inline constexpr std::string_view missing_contents = "missing-contents";
inline constexpr std::string_view not_contained = "not-contained";
inline constexpr std::string_view contents_and_formula = "contents-and-formula";
inline constexpr std::string_view purity_without_formula = "purity-without-formula";
inline constexpr std::string_view bad_formula = "bad-formula";
inline constexpr std::string_view form_without_parent = "form-without-parent";
inline constexpr std::string_view forms_over_parent = "forms-over-parent";
inline constexpr std::string_view stated_twice = "stated-twice";
inline constexpr std::string_view contents_over_100 = "contents-over-100";
inline constexpr std::string_view unbounded_cost = "unbounded-cost";

// The question.
inline constexpr std::string_view nothing_asked = "nothing-asked";
inline constexpr std::string_view unknown_nutrient = "unknown-nutrient";
inline constexpr std::string_view bad_sum = "bad-sum";
inline constexpr std::string_view no_figure = "no-figure";
inline constexpr std::string_view not_a_micronutrient = "not-a-micronutrient";
inline constexpr std::string_view high_rate = "high-rate";
inline constexpr std::string_view ratio_of_itself = "ratio-of-itself";
inline constexpr std::string_view needs_rates = "needs-rates";
inline constexpr std::string_view needs_day = "needs-day";
inline constexpr std::string_view needs_plant = "needs-plant";
inline constexpr std::string_view make_twice = "make-twice";
inline constexpr std::string_view needs_make = "needs-make";
inline constexpr std::string_view margin_twice = "margin-twice";

// Uncertain analyses and prices.
inline constexpr std::string_view spread_without_content = "spread-without-content";
inline constexpr std::string_view needs_room = "needs-room";
inline constexpr std::string_view no_tolerance = "no-tolerance";
inline constexpr std::string_view one_shape = "one-shape";
inline constexpr std::string_view history_gap = "history-gap";
inline constexpr std::string_view not_uncertain = "not-uncertain";
inline constexpr std::string_view impossible_correlations = "impossible-correlations";

// Compatibility and fire.
inline constexpr std::string_view unknown_family = "unknown-family";
inline constexpr std::string_view family_with_itself = "family-with-itself";
inline constexpr std::string_view contradictory_pair = "contradictory-pair";
inline constexpr std::string_view dangerous_pair = "dangerous-pair";
inline constexpr std::string_view oxidizer_with_organic_binder = "oxidizer-with-organic-binder";
inline constexpr std::string_view oxidizer_with_fuel = "oxidizer-with-fuel";
inline constexpr std::string_view refused_material = "refused-material";
inline constexpr std::string_view family_contradicts = "family-contradicts";
inline constexpr std::string_view unknown_beside_oxidizer = "unknown-beside-oxidizer";
inline constexpr std::string_view organic_binder_denied = "organic-binder-denied";

// Variants of a scenario.
inline constexpr std::string_view unknown_rule = "unknown-rule";
inline constexpr std::string_view ambiguous_rule = "ambiguous-rule";

// Trials and what was weighed for them.
inline constexpr std::string_view bad_date = "bad-date";
inline constexpr std::string_view treatment_kind = "treatment-kind";
inline constexpr std::string_view duplicate_label = "duplicate-label";
inline constexpr std::string_view plot_size = "plot-size";
inline constexpr std::string_view field_too_small = "field-too-small";
inline constexpr std::string_view unfit_design = "unfit-design";
inline constexpr std::string_view unfit_solution = "unfit-solution";
inline constexpr std::string_view powders_alone = "powders-alone";
inline constexpr std::string_view incompatible_recipe = "incompatible-recipe";
inline constexpr std::string_view lifted_in_trial = "lifted-in-trial";
inline constexpr std::string_view unknown_batch = "unknown-batch";
inline constexpr std::string_view weighed_twice = "weighed-twice";
inline constexpr std::string_view not_weighed = "not-weighed";
inline constexpr std::string_view bad_hold = "bad-hold";
inline constexpr std::string_view bad_split = "bad-split";
inline constexpr std::string_view other_plan = "other-plan";

// Seasons.
inline constexpr std::string_view bad_season = "bad-season";

inline constexpr std::array all{file_missing,
                                file_unreadable,
                                file_too_large,
                                not_text,
                                outside_folder,
                                no_folder,
                                syntax,
                                tab_indent,
                                empty_file,
                                second_document,
                                yaml_feature,
                                too_deep,
                                bad_table,
                                format_version,
                                unknown_key,
                                us_unit,
                                misplaced_key,
                                duplicate_key,
                                missing_key,
                                wrong_type,
                                bad_number,
                                bad_choice,
                                bad_name,
                                duplicate_name,
                                out_of_range,
                                min_over_max,
                                empty_limits,
                                exactly_excludes,
                                no_materials,
                                unknown_material,
                                missing_price,
                                bad_tiers,
                                missing_contents,
                                not_contained,
                                contents_and_formula,
                                purity_without_formula,
                                bad_formula,
                                form_without_parent,
                                forms_over_parent,
                                stated_twice,
                                contents_over_100,
                                unbounded_cost,
                                nothing_asked,
                                unknown_nutrient,
                                bad_sum,
                                no_figure,
                                not_a_micronutrient,
                                high_rate,
                                ratio_of_itself,
                                needs_rates,
                                needs_day,
                                needs_plant,
                                make_twice,
                                needs_make,
                                margin_twice,
                                bad_date,
                                spread_without_content,
                                needs_room,
                                no_tolerance,
                                one_shape,
                                history_gap,
                                not_uncertain,
                                impossible_correlations,
                                unknown_family,
                                family_with_itself,
                                contradictory_pair,
                                dangerous_pair,
                                oxidizer_with_organic_binder,
                                oxidizer_with_fuel,
                                refused_material,
                                family_contradicts,
                                unknown_beside_oxidizer,
                                organic_binder_denied};

/// Those that only a variant can be rejected with.
inline constexpr std::array variant{unknown_rule, ambiguous_rule};

/// Those that only a trial, or what was weighed for one, can be rejected with.
inline constexpr std::array trial{treatment_kind,  duplicate_label,     plot_size,
                                  field_too_small, unfit_design,        unfit_solution,
                                  powders_alone,   incompatible_recipe, lifted_in_trial,
                                  unknown_batch,   weighed_twice,       not_weighed,
                                  bad_hold,        bad_split,           other_plan};

/// Those that only a season can be rejected with.
inline constexpr std::array season{bad_season};

}  // namespace leastwise::codes
