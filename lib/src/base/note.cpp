#include <leastwise/note.hpp>

#include <algorithm>
#include <array>
#include <utility>

namespace leastwise {
namespace {

using Spelling = std::pair<NoteCode, std::string_view>;

constexpr auto spellings = std::to_array<Spelling>({
    {NoteCode::other, "other"},
    {NoteCode::batch_short, "batch-short"},
    {NoteCode::binder_by_drop, "binder-by-drop"},
    {NoteCode::binder_reacts, "binder-reacts"},
    {NoteCode::binder_stated_inorganic, "binder-stated-inorganic"},
    {NoteCode::binder_unnamed, "binder-unnamed"},
    {NoteCode::binder_unusual, "binder-unusual"},
    {NoteCode::bucket_load, "bucket-load"},
    {NoteCode::catalogue_replaced, "catalogue-replaced"},
    {NoteCode::coating_over_limit, "coating-over-limit"},
    {NoteCode::confidence_changes_nothing, "confidence-changes-nothing"},
    {NoteCode::confidence_margins, "confidence-margins"},
    {NoteCode::confidence_of_limit, "confidence-of-limit"},
    {NoteCode::critical_humidity, "critical-humidity"},
    {NoteCode::currencies_differ, "currencies-differ"},
    {NoteCode::declaration_short, "declaration-short"},
    {NoteCode::density_assumed, "density-assumed"},
    {NoteCode::differs_unasked, "differs-unasked"},
    {NoteCode::dust, "dust"},
    {NoteCode::family_unknown, "family-unknown"},
    {NoteCode::few_draws, "few-draws"},
    {NoteCode::few_granules, "few-granules"},
    {NoteCode::first_line_without_blend, "first-line-without-blend"},
    {NoteCode::form_kept_out, "form-kept-out"},
    {NoteCode::granular_factor, "granular-factor"},
    {NoteCode::forms_follow, "forms-follow"},
    {NoteCode::grind_first, "grind-first"},
    {NoteCode::humidity_unknown, "humidity-unknown"},
    {NoteCode::keep_dry, "keep-dry"},
    {NoteCode::label_tolerance, "label-tolerance"},
    {NoteCode::left_out_by_humidity, "left-out-by-humidity"},
    {NoteCode::left_out_by_size, "left-out-by-size"},
    {NoteCode::limited_compatibility, "limited-compatibility"},
    {NoteCode::load_over_capacity, "load-over-capacity"},
    {NoteCode::loads_meet, "loads-meet"},
    {NoteCode::maybe_fraction, "maybe-fraction"},
    {NoteCode::maximum_always_met, "maximum-always-met"},
    {NoteCode::metric_figures, "metric-figures"},
    {NoteCode::mixer_at_work, "mixer-at-work"},
    {NoteCode::must_not_be_kept, "must-not-be-kept"},
    {NoteCode::name_taken_as_property, "name-taken-as-property"},
    {NoteCode::nature_stated, "nature-stated"},
    {NoteCode::no_binder_weighed, "no-binder-weighed"},
    {NoteCode::no_compatibility_rule, "no-compatibility-rule"},
    {NoteCode::no_seed, "no-seed"},
    {NoteCode::no_spare, "no-spare"},
    {NoteCode::not_finished, "not-finished"},
    {NoteCode::nothing_asked, "nothing-asked"},
    {NoteCode::nothing_weighed, "nothing-weighed"},
    {NoteCode::oxidizer, "oxidizer"},
    {NoteCode::oxidizer_without_rules, "oxidizer-without-rules"},
    {NoteCode::pack_rounded, "pack-rounded"},
    {NoteCode::pair_without_effect, "pair-without-effect"},
    {NoteCode::powder_check, "powder-check"},
    {NoteCode::price_far_off, "price-far-off"},
    {NoteCode::price_of_no_material, "price-of-no-material"},
    {NoteCode::published_figures, "published-figures"},
    {NoteCode::rate_above_usual, "rate-above-usual"},
    {NoteCode::rate_below_usual, "rate-below-usual"},
    {NoteCode::rounding_shift, "rounding-shift"},
    {NoteCode::rule_lifted, "rule-lifted"},
    {NoteCode::size_unknown, "size-unknown"},
    {NoteCode::sizes_differ, "sizes-differ"},
    {NoteCode::sprayed_on, "sprayed-on"},
    {NoteCode::spread_at_most, "spread-at-most"},
    {NoteCode::stock_mix_first, "stock-mix-first"},
    {NoteCode::stock_without_make, "stock-without-make"},
    {NoteCode::supply_over_asked, "supply-over-asked"},
    {NoteCode::toxic_element, "toxic-element"},
    {NoteCode::trace_not_stated, "trace-not-stated"},
    {NoteCode::uniformity_unusual, "uniformity-unusual"},
});

}  // namespace

std::string_view to_string(NoteLevel level) {
  switch (level) {
    case NoteLevel::caution:
      return "caution";
    case NoteLevel::warning:
      return "warning";
    case NoteLevel::info:
      break;
  }
  return "info";
}

std::string_view to_string(NoteCode code) {
  const auto found = std::ranges::find(spellings, code, &Spelling::first);
  return found == spellings.end() ? std::string_view() : found->second;
}

std::optional<NoteCode> note_code(std::string_view spelling) {
  const auto found = std::ranges::find(spellings, spelling, &Spelling::second);
  if (found == spellings.end()) return std::nullopt;
  return found->first;
}

}  // namespace leastwise
