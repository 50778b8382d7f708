#include <leastwise/micronutrient.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <set>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "base/unit_factors.hpp"
#include "scenario/builder.hpp"
#include "scenario/supply_notes.hpp"

namespace leastwise {
namespace {

constexpr const Range& total_range = rate_range;
constexpr Range binder_range{0, 100, false, "percent of the powder"};
constexpr Range factor_range{1, 1000, false, ""};
constexpr Range hectares_range{0, largest_number, true, "hectares"};
constexpr Range tonnes_range{0, largest_number, true, "tonnes"};

void offer_micronutrients(Suggestion& suggestion) {
  for (const auto known : known_names())
    if (is_micronutrient(known)) suggestion.offer(known);
}

}  // namespace

void ScenarioBuilder::resolve_blend_settings() {
  resolve_total();
  if (draft_.bins) {
    checks_.number("blend.bins", "the number of bins", *draft_.bins, {1, 1000, false, ""});
    scenario_.bins_ = draft_.bins;
  }
  if (draft_.coating_percent) {
    if (draft_.coating_percent->has_min()) {
      diagnostics_.error(
          codes::out_of_range, checks_.side("blend.coating_percent", "min"),
          "coating_percent takes a max only: powders coat as much as the other rules "
          "ask for, up to it");
    } else if (checks_.limits("blend.coating_percent", "the coating", *draft_.coating_percent,
                              percent_range)) {
      scenario_.coating_max_percent_ = draft_.coating_percent->max;
    }
  }
  resolve_binder();
  resolve_factors();
  check_high_rates();
  if (draft_.blending_fee_per_t) {
    checks_.number("blend.blending_fee_per_t", "the blending fee", *draft_.blending_fee_per_t,
                   charge_range);
    scenario_.blending_fee_per_t_ = *draft_.blending_fee_per_t;
  }
  resolve_make();
  check_cost_is_bounded();
}

void ScenarioBuilder::resolve_total() {
  if (!draft_.total_kg_per_ha) return;
  const std::string path = "blend.total_kg_per_ha";
  if (scenario_.basis_ == Basis::per_tonne) {
    diagnostics_.error(codes::needs_rates, path,
                       "total_kg_per_ha limits what is spread on a hectare and needs "
                       "rates_kg_per_ha; grade_percent alone asks for a product by the tonne");
    return;
  }
  if (!checks_.limits(path, "the total", *draft_.total_kg_per_ha, total_range)) return;
  scenario_.total_kg_per_ha_ = *draft_.total_kg_per_ha;
  if (draft_.total_kg_per_ha->max > 0) return;
  diagnostics_.error(codes::out_of_range, checks_.side(path, "max"),
                     "the maximum of the total must be above 0 kg per hectare, found 0");
}

void ScenarioBuilder::resolve_binder() {
  if (!draft_.binder) return;
  const BinderDraft& draft = *draft_.binder;
  Binder& binder = scenario_.binder_;
  if (!draft.material.empty()) {
    checks_.name("blend.binder.material", "the name of a binder", draft.material);
    binder.material = draft.material;
  }
  if (draft.percent_of_powder) {
    checks_.number("blend.binder.percent_of_powder", "the binder", *draft.percent_of_powder,
                   binder_range);
    binder.percent_of_powder = *draft.percent_of_powder;
  }
  if (draft.price_per_t) {
    checks_.number("blend.binder.price_per_t", "the price of the binder", *draft.price_per_t,
                   charge_range);
    binder.price_per_t = *draft.price_per_t;
  }
}

void ScenarioBuilder::resolve_factors() {
  const std::string path = "blend.granular_micronutrient_factor";
  if (draft_.granular_micronutrient_factor) {
    checks_.number(below(path, "default"), "the granular micronutrient factor",
                   *draft_.granular_micronutrient_factor, factor_range);
  }
  std::set<std::string_view> seen;
  for (const auto& [name, factor] : draft_.granular_micronutrient_factors) {
    const std::string place = below(path, name);
    checks_.number(place, "the granular micronutrient factor of " + in_quotes(name), factor,
                   factor_range);
    if (!seen.insert(name).second) {
      diagnostics_.error(
          codes::duplicate_name, place,
          "the granular micronutrient factor of " + in_quotes(name) + " is given twice");
    }
    if (is_micronutrient(name)) continue;
    Suggestion suggestion(name);
    suggestion.offer("default");
    offer_micronutrients(suggestion);
    diagnostics_.error(
        codes::not_a_micronutrient, place,
        "a granular micronutrient factor must be for default or one of B, Cu, Fe, Mn, "
        "Mo, Zn, Co, Ni and Se, found " +
            in_quotes(name) + suggestion.question());
  }
}

void ScenarioBuilder::check_high_rates() {
  std::set<std::string_view> seen;
  for (std::size_t i = 0; i < draft_.confirm_high_rate.size(); ++i) {
    const std::string& name = draft_.confirm_high_rate[i];
    const std::string place = below("blend.confirm_high_rate", std::to_string(i));
    if (!seen.insert(name).second)
      diagnostics_.error(codes::duplicate_name, place,
                         "a high rate of " + in_quotes(name) + " is confirmed twice");
    if (is_micronutrient(name)) continue;
    Suggestion suggestion(name);
    offer_micronutrients(suggestion);
    diagnostics_.error(codes::not_a_micronutrient, place,
                       "a high rate is confirmed for B, Cu, Fe, Mn, Mo, Zn, Co, Ni or Se, found " +
                           in_quotes(name) + suggestion.question());
  }
  for (const auto& rate : scenario_.rates_) {
    const Micronutrient* const micronutrient = find_micronutrient(rate.nutrient);
    if (micronutrient == nullptr || !(rate.limits.min > micronutrient->ceiling_kg_per_ha) ||
        seen.contains(rate.nutrient))
      continue;
    diagnostics_.error(codes::high_rate, checks_.side(rate.path, "min"),
                       high_rate_text(*micronutrient, rate.limits.min, draft_.units));
  }
  check_high_grades();
}

/// A minimum grade is a rate too where it is known how much of the product a hectare gets.
void ScenarioBuilder::check_high_grades() {
  if (!draft_.product_kg_per_ha || scenario_.basis_ != Basis::per_tonne) return;
  for (const auto& grade : scenario_.grades_) {
    const Micronutrient* const micronutrient = find_micronutrient(grade.nutrient);
    const double rate = grade.limits.min / 100 * *draft_.product_kg_per_ha;
    if (micronutrient == nullptr || !(rate > micronutrient->ceiling_kg_per_ha) ||
        confirms_high_rate(draft_, grade.nutrient))
      continue;
    diagnostics_.error(codes::high_rate, checks_.side(grade.path, "min"),
                       number_text(*draft_.product_kg_per_ha) + " kg/ha of a product with " +
                           number_text(grade.limits.min) +
                           " % of it: " + high_rate_text(*micronutrient, rate));
  }
}

void ScenarioBuilder::resolve_make() {
  if (draft_.make_hectares && draft_.make_tonnes) {
    diagnostics_.error(codes::make_twice, "make.tonnes",
                       "make must say hectares or tonnes, found both; keep one");
    return;
  }
  if (draft_.make_hectares) {
    if (scenario_.basis_ == Basis::per_tonne) {
      diagnostics_.error(
          codes::needs_rates, "make.hectares",
          "hectares to make for need rates_kg_per_ha, found grade_percent alone, which "
          "does not say how much a hectare gets; give tonnes instead");
    }
    checks_.number("make.hectares", "the area to make for", *draft_.make_hectares, hectares_range);
  }
  if (draft_.make_tonnes) {
    checks_.number("make.tonnes", "the mass to make", *draft_.make_tonnes, tonnes_range);
  }
  scenario_.make_hectares_ = draft_.make_hectares;
  scenario_.make_tonnes_ = draft_.make_tonnes;
}

void ScenarioBuilder::check_cost_is_bounded() {
  if (scenario_.cost_is_bounded() || diagnostics_.touched("blend") ||
      diagnostics_.touched("rates_kg_per_ha")) {
    return;
  }
  for (const auto& material : scenario_.materials_) {
    if (!(material.price_per_t < 0)) continue;
    const auto listed = prices_.find(material.name);
    const auto defined = drafts_.find(material.name);
    std::string path = below("materials", material.name);
    if (listed != prices_.end()) {
      path = listed->second->path.empty() ? below("prices", material.name) : listed->second->path;
    } else if (defined != drafts_.end()) {
      path = path_of(*defined->second);
    }
    diagnostics_.error(
        codes::unbounded_cost, below(path, "price_per_t"),
        "a price below 0 needs a limit on the whole, or ever more of it would pay; "
        "material " +
            in_quotes(material.name) + " is priced at " +
            figure_text(material.price_per_t, Measure::price_of_goods, draft_.units) +
            "; add total_kg_per_ha with a max under blend");
  }
}

void ScenarioBuilder::resolve_costs() {
  const double share = scenario_.binder_.percent_of_powder / 100;
  for (const auto& material : scenario_.materials_) {
    scenario_.mass_factor_.push_back(material.form_used() == Form::powder ? 1 + share : 1);
  }
  for (std::size_t i = 0; i < scenario_.materials_.size(); ++i) {
    scenario_.cost_per_kg_.push_back(scenario_.cost_of(i));
  }
}

}  // namespace leastwise
