#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <set>

#include "scenario/builder.hpp"
#include "scenario/supply_notes.hpp"

namespace leastwise {
namespace {

constexpr std::array<std::string_view, 9> main_names{"N",  "P2O5", "K2O", "S",   "Ca",
                                                     "Mg", "Na",   "Cl",  "SiO2"};

}  // namespace

double granular_factor(const ScenarioDraft& draft, std::string_view nutrient) {
  const Micronutrient* const micronutrient = find_micronutrient(nutrient);
  if (micronutrient == nullptr) return 1;
  for (const auto& [name, factor] : draft.granular_micronutrient_factors)
    if (name == nutrient) return factor;
  return draft.granular_micronutrient_factor.value_or(micronutrient->granular_factor);
}

std::vector<double> ScenarioBuilder::contents_of(std::string_view name) const {
  std::vector<double> percents;
  percents.reserve(scenario_.materials_.size());
  for (const auto& material : scenario_.materials_) {
    percents.push_back(content_percent(material, name));
  }
  return percents;
}

std::vector<double> ScenarioBuilder::availability_of(std::string_view name) const {
  const double factor = granular_factor(draft_, name);
  std::vector<double> reach;
  reach.reserve(scenario_.materials_.size());
  for (const auto& material : scenario_.materials_) {
    reach.push_back(material.micronutrient_granule ? 1 / factor : 1);
  }
  return reach;
}

std::vector<std::string> ScenarioBuilder::names_to_report() const {
  std::vector<std::string> names;
  std::set<std::string_view> seen;
  std::set<std::string_view> elements;
  const auto list = [&](std::string_view name) {
    if (!seen.insert(name).second) return;
    names.emplace_back(name);
    if (const auto element = element_of(name)) elements.insert(*element);
  };
  for (const auto& target : scenario_.rates_) list(target.nutrient);
  for (const auto& target : scenario_.grades_) list(target.nutrient);
  for (const auto& ratio : scenario_.ratios_) {
    list(ratio.of);
    list(ratio.to);
  }
  const auto list_unless_listed = [&](std::string_view name) {
    const auto element = element_of(name);
    if (element && !elements.contains(*element) && contained(std::string(name))) list(name);
  };
  for (const auto name : main_names) list_unless_listed(name);
  for (const auto name : known_names()) {
    if (is_micronutrient(name)) list_unless_listed(name);
  }
  for (const auto& material : scenario_.materials_) {
    if (!material.can_enter()) continue;
    for (const auto& content : material.contains_percent) {
      if (kind_of(content.name) == NameKind::property) list(content.name);
    }
  }
  return names;
}

void ScenarioBuilder::resolve_reported() {
  for (auto* targets : {&scenario_.rates_, &scenario_.grades_}) {
    for (auto& target : *targets) {
      target.content_percent = contents_of(target.nutrient);
      target.availability = availability_of(target.nutrient);
    }
  }
  for (auto& ratio : scenario_.ratios_) {
    ratio.of_percent = contents_of(ratio.of);
    ratio.to_percent = contents_of(ratio.to);
  }
  for (const auto& name : names_to_report()) {
    scenario_.reported_.push_back({name, contents_of(name), availability_of(name)});
  }
}

}  // namespace leastwise
