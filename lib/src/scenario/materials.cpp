#include <leastwise/catalogue.hpp>

#include <algorithm>
#include <utility>

#include "base/codes.hpp"
#include "base/reading_stop.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "scenario/builder.hpp"
#include "scenario/contents.hpp"
#include "scenario/lot_analysis.hpp"
#include "scenario/material_fields.hpp"

namespace leastwise {

std::string ScenarioBuilder::path_of(const MaterialDraft& draft) {
  return draft.path.empty() ? below("materials", draft.name) : draft.path;
}

void ScenarioBuilder::index_prices() {
  for (const auto& line : draft_.prices) {
    const std::string path = line.path.empty() ? below("prices", line.material) : line.path;
    const std::string owner = " of material " + in_quotes(line.material);
    checks_.number(below(path, "price_per_t"), "the price" + owner, line.price_per_t, price_range);
    if (line.freight_per_t) {
      checks_.number(below(path, "freight_per_t"), "the freight" + owner, *line.freight_per_t,
                     charge_range);
    }
    const auto [first, is_new] = prices_.emplace(line.material, &line);
    if (is_new) continue;
    diagnostics_.error(codes::duplicate_name, path,
                       "material " + in_quotes(line.material) + " is in the price list twice");
    diagnostics_.also(
        first->second->path.empty() ? below("prices", line.material) : first->second->path,
        "first listed here");
  }
}

void ScenarioBuilder::resolve_materials() {
  for (const auto& draft : draft_.materials) {
    const std::string path = path_of(draft);
    checks_.name(path, "the name of a material", draft.name);
    const auto [first, is_new] = drafts_.emplace(draft.name, &draft);
    if (is_new) continue;
    diagnostics_.error(codes::duplicate_name, path,
                       "material " + in_quotes(draft.name) + " is defined twice");
    diagnostics_.also(path_of(*first->second), "first defined here");
  }
  const auto in_play = drafts_in_play();
  for (const auto* draft : in_play) {
    leave_if_asked(stop_);
    const bool built_in = drafts_.find(draft->name) == drafts_.end();
    const std::string path = built_in ? draft->path : path_of(*draft);
    Material material = resolve(*draft, path);
    resolve_price(*draft, path, material);
    scenario_.materials_.push_back(std::move(material));
  }
  remark_on_unknown_prices();
}

std::vector<const MaterialDraft*> ScenarioBuilder::drafts_in_play() {
  std::vector<const MaterialDraft*> in_play;
  if (!draft_.use) {
    for (const auto& draft : draft_.materials) {
      if (drafts_.find(draft.name)->second == &draft) in_play.push_back(&draft);
    }
    if (in_play.empty() && !diagnostics_.touched("materials") &&
        !diagnostics_.touched("catalogue") && !diagnostics_.unreadable("use")) {
      diagnostics_.error(codes::no_materials, "materials",
                         "a scenario must have materials to blend, found none; add them under "
                         "materials, name a catalogue, or list built-in ones under use");
    }
    return in_play;
  }
  if (draft_.use->empty()) {
    diagnostics_.error(codes::no_materials, "use",
                       std::string(diagnostics_.list_of_materials()) +
                           " must list at least one material, found none; leave the key out to use "
                           "all");
  }
  const std::set<std::string, std::less<>> used(draft_.use->begin(), draft_.use->end());
  for (const auto& draft : draft_.materials) {
    if (drafts_.find(draft.name)->second != &draft) continue;
    if (used.find(draft.name) != used.end()) {
      in_play.push_back(&draft);
    } else {
      const std::size_t told = scenario_.notes_.size();
      static_cast<void>(resolve(draft, path_of(draft)));  // its own mistakes count all the same
      scenario_.notes_.resize(told);
    }
  }
  for (std::size_t i = 0; i < draft_.use->size(); ++i) add_used(i, in_play);
  return in_play;
}

void ScenarioBuilder::add_used(std::size_t position, std::vector<const MaterialDraft*>& in_play) {
  const std::string& name = (*draft_.use)[position];
  const std::string path = below("use", std::to_string(position));
  if (diagnostics_.unreadable(path)) return;
  const auto [first, is_new] = used_.emplace(name, position);
  if (!is_new) {
    diagnostics_.error(codes::duplicate_name, path,
                       "material " + in_quotes(name) + " is listed twice under use");
    diagnostics_.also(below("use", std::to_string(first->second)), "first listed here");
    return;
  }
  if (drafts_.find(name) != drafts_.end()) return;
  if (find_built_in_material(name) != nullptr) {
    MaterialDraft draft;
    draft.name = name;
    draft.path = path;
    used_built_ins_.push_back(std::move(draft));
    in_play.push_back(&used_built_ins_.back());
    return;
  }
  if (diagnostics_.unreadable(below("materials", name)) || diagnostics_.touched("catalogue"))
    return;
  Suggestion suggestion = meant_material(name);
  for (const auto& [known, unused] : drafts_) suggestion.offer(known);
  diagnostics_.error(codes::unknown_material, path,
                     std::string(diagnostics_.list_of_materials()) +
                         " must name materials that are defined or built in, found " +
                         in_quotes(name) + suggestion.question());
}

Material ScenarioBuilder::resolve(const MaterialDraft& draft, const std::string& path) {
  const bool states_contents = draft.contains_percent || draft.formula ||
                               diagnostics_.touched(below(path, "contains_percent")) ||
                               diagnostics_.touched(below(path, "formula"));
  const Material* built_in = states_contents ? nullptr : find_built_in_material(draft.name);
  check_material_fields(draft, path, checks_, diagnostics_);
  if (built_in == nullptr) check_material_is_complete(draft, path, states_contents, diagnostics_);
  Material material =
      merged(draft, built_in, material_contents(draft, path, checks_, diagnostics_));
  if (built_in != nullptr || states_contents)
    apply_lot_analysis(draft, path, material, checks_, diagnostics_, scenario_.notes_);
  if (built_in != nullptr || draft.form) check_form_agrees(material, path, diagnostics_);
  check_spread_is_of_contents(material, path, diagnostics_);
  return material;
}

void ScenarioBuilder::resolve_price(const MaterialDraft& draft, const std::string& path,
                                    Material& material) {
  const auto listed = prices_.find(draft.name);
  if (listed != prices_.end()) {
    material.price_per_t = listed->second->price_per_t;
    if (listed->second->freight_per_t) material.freight_per_t = *listed->second->freight_per_t;
    const PriceDraft& line = *listed->second;
    const std::string at = line.path.empty() ? below("prices", line.material) : line.path;
    resolve_purchase(line.minimum_lot_t || !line.price_tiers.empty() ? at : path, line.price_tiers,
                     line.minimum_lot_t ? line.minimum_lot_t : draft.minimum_lot_t, material);
    return;
  }
  resolve_purchase(path, draft.price_tiers, draft.minimum_lot_t, material);
  const std::string tiers = below(path, "price_tiers");
  if (draft.price_per_t && !draft.price_tiers.empty())
    diagnostics_.error(codes::bad_tiers, tiers,
                       "material " + in_quotes(draft.name) +
                           " must have price_per_t or price_tiers, found both; keep one");
  if (draft.price_per_t || !draft.price_tiers.empty() || diagnostics_.touched(tiers) ||
      diagnostics_.unreadable("prices") || diagnostics_.touched(below("prices", draft.name))) {
    return;
  }
  diagnostics_.error(
      codes::missing_price, below(path, "price_per_t"),
      "material " + in_quotes(draft.name) +
          " has no price; add price_per_t to it, or a line for it to the price list");
}

void ScenarioBuilder::remark_on_unknown_prices() {
  if (diagnostics_.touched("materials") || diagnostics_.touched("catalogue")) return;
  for (const auto& [name, line] : prices_) {
    if (drafts_.find(name) != drafts_.end() || find_built_in_material(name) != nullptr) continue;
    Suggestion suggestion = meant_material(name);
    for (const auto& [known, unused] : drafts_) suggestion.offer(known);
    add_note(NoteLevel::warning, NoteCode::price_of_no_material, {name},
             "the price list names " + in_quotes(name) + ", which is no material of this scenario" +
                 suggestion.question());
  }
}

}  // namespace leastwise
