#include <leastwise/catalogue.hpp>
#include <leastwise/nutrient.hpp>
#include <leastwise/toxic_element.hpp>

#include <algorithm>

#include "base/reading_stop.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "base/unit_factors.hpp"
#include "scenario/builder.hpp"
#include "scenario/family_checks.hpp"

namespace leastwise {
namespace {

std::vector<std::string> names_where(std::span<const Material> materials,
                                     bool (*holds)(const Material&)) {
  std::vector<std::string> names;
  for (const auto& material : materials) {
    if (holds(material)) names.push_back(material.name);
  }
  return names;
}

bool is_kept_out(const Material& material) { return !material.can_enter(); }
bool is_powder(const Material& material) { return material.form_used() == Form::powder; }
bool is_ground(const Material& material) { return is_powder(material) && material.ground; }
bool has_stock(const Material& material) { return material.stock_kg.has_value(); }

/// Whether the scenario asks for the element, or coats with a powder that holds it.
bool is_handled(std::string_view element, const Scenario& scenario) {
  const auto asks = [element](const Target& target) {
    return element_of(target.nutrient) == element;
  };
  return std::any_of(scenario.rates().begin(), scenario.rates().end(), asks) ||
         std::any_of(scenario.grades().begin(), scenario.grades().end(), asks) ||
         std::any_of(scenario.materials().begin(), scenario.materials().end(),
                     [element](const Material& material) {
                       return is_powder(material) && content_percent(material, element) > 0;
                     });
}

}  // namespace

void ScenarioBuilder::remark_on_binder() {
  if (!scenario_.binder_.material.empty()) return;
  if (names_where(scenario_.materials_, is_powder).empty()) return;
  add_note(NoteLevel::info, NoteCode::binder_unnamed, {},
           "powders need a binder and none is named: " +
               number_text(scenario_.binder_.percent_of_powder) +
               " % of their mass is assumed, at " +
               figure_text(scenario_.binder_.price_per_t, Measure::price_of_goods, draft_.units) +
               (draft_.units == Units::us ? " per short ton" : " per tonne"));
}

void ScenarioBuilder::remark_on_case() {
  for (const auto& draft : draft_.materials) {
    leave_if_asked(stop_);
    if (!draft.contains_percent || !scenario_.index_of(draft.name)) continue;
    for (const auto& content : *draft.contains_percent) {
      if (kind_of(content.name) != NameKind::property) continue;
      for (const auto known : known_names()) {
        if (!same_but_for_case(content.name, known)) continue;
        add_note(NoteLevel::warning, NoteCode::name_taken_as_property, {draft.name, content.name},
                 in_quotes(content.name) + " of material " + in_quotes(draft.name) +
                     " is taken as a property of its own; did you mean " + in_quotes(known) + "?");
      }
    }
  }
}

void ScenarioBuilder::remark_on_families() {
  for (std::size_t i = 0; i < scenario_.materials_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (!material.can_enter() || find_family(material.family) != nullptr) continue;
    Suggestion suggestion(material.family);
    if (material.family != material.name) {
      for (const auto& family : built_in_families()) suggestion.offer(family.name);
    }
    const Material* namesake = find_built_in_material(material.family);
    if (namesake != nullptr) suggestion.settle(namesake->family);
    if (!suggestion.best()) continue;
    add_note(NoteLevel::warning, NoteCode::family_unknown, {material.name},
             in_quotes(material.name) + " is of family " + in_quotes(material.family) +
                 ", which the compatibility table does not know; did you mean "
                 "family: " +
                 *suggestion.best() + "?");
  }
  std::vector<std::string> unlisted;
  for (std::size_t i = 0; i < natures_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (material.can_enter() && natures_[i].has(HazardClass::oxidizer) &&
        find_family(material.family) == nullptr)
      unlisted.push_back(material.name);
  }
  if (unlisted.empty()) return;
  add_note(NoteLevel::warning, NoteCode::oxidizer_without_rules, unlisted,
           "no compatibility rules are known for " + listed(unlisted) +
               ", which counts as an oxidizer; state its family, or its pairs under compatibility");
}

void ScenarioBuilder::add_remarks() {
  const std::span<const Material> materials = scenario_.materials_;
  remark_on_families();
  remark_on_case();
  remark_on_fractions();
  remark_on_price_sizes();
  remark_on_binder();
  remark_on_binder_reactions();
  if (const auto ground = names_where(materials, is_ground); !ground.empty()) {
    add_note(NoteLevel::caution, NoteCode::grind_first, ground,
             listed(ground) +
                 " must be ground to a fine powder before blending; keep the "
                 "dust down and wear a fitted respirator");
  }
  if (const auto out = names_where(materials, is_kept_out); !out.empty()) {
    add_note(NoteLevel::info, NoteCode::form_kept_out, out,
             listed(out) + (out.size() == 1 ? " stays" : " stay") +
                 " out of every blend: crystals and fines segregate and do not stick; say ground: "
                 "true for what will be ground to a powder");
  }
  if (!draft_.make_hectares && !draft_.make_tonnes) {
    if (const auto stocked = names_where(materials, has_stock); !stocked.empty()) {
      add_note(NoteLevel::info, NoteCode::stock_without_make, stocked,
               "the stock of " + listed(stocked) +
                   " is not held against anything: make does not say how much to "
                   "make");
    }
  }
  for (const auto& element : toxic_elements())
    if (is_handled(element.symbol, scenario_))
      add_note(NoteLevel::caution, NoteCode::toxic_element, {element.symbol}, element.caution,
               element.source);
}

}  // namespace leastwise
