#include <leastwise/micronutrient.hpp>

#include <algorithm>

#include "scenario/builder.hpp"
#include "scenario/supply_notes.hpp"

namespace leastwise {

/// The micronutrients that a rule wants more of: a minimum above 0, or the other side of a ratio.
std::set<std::string, std::less<>> ScenarioBuilder::asked_elements() const {
  std::set<std::string, std::less<>> asked;
  for (const auto* targets : {&scenario_.rates_, &scenario_.grades_})
    for (const auto& target : *targets)
      if (target.limits.min > 0 || target.guarantee.value_or(0) > 0) asked.insert(target.nutrient);
  for (const auto& ratio : scenario_.ratios_) {
    if (ratio.limits.min > 0) asked.insert(ratio.of);
    if (ratio.limits.has_max()) asked.insert(ratio.to);
  }
  return asked;
}

/// A minimum share asks for a material; so does any stated share of one that `use` names.
bool ScenarioBuilder::asks_for_share(const Material& material) const {
  if (material.share_percent.min > 0) return true;
  if (!material.share_percent.has_min() && !material.share_percent.has_max()) return false;
  return draft_.use && std::ranges::find(*draft_.use, material.name) != draft_.use->end();
}

void ScenarioBuilder::resolve_unasked() {
  auto asked = asked_elements();
  auto with_shares = asked;
  for (std::size_t i = 0; i < scenario_.materials_.size(); ++i) {
    const Material& material = scenario_.materials_[i];
    if (!material.can_enter() || material.left_out) continue;
    const auto carried = carried_micronutrients(material);
    if (carried.empty()) continue;
    if (asks_for_share(material)) {
      with_shares.insert(carried.begin(), carried.end());
    } else if (std::ranges::none_of(carried,
                                    [&](auto element) { return asked.contains(element); })) {
      scenario_.unasked_.push_back({i, {carried.begin(), carried.end()}});
    }
  }
  const bool has_rate = scenario_.basis_ == Basis::per_hectare || draft_.product_kg_per_ha;
  if (has_rate) resolve_ceilings(with_shares);
}

/// A stated maximum of a rate, or of a grade of a product whose rate is known.
bool ScenarioBuilder::has_maximum(std::string_view element) const {
  const auto& targets =
      scenario_.basis_ == Basis::per_hectare ? scenario_.rates_ : scenario_.grades_;
  const auto target = std::ranges::find(targets, element, &Target::nutrient);
  return target != targets.end() && target->limits.has_max();
}

void ScenarioBuilder::resolve_ceilings(const std::set<std::string, std::less<>>& asked) {
  for (const auto& micronutrient : micronutrients()) {
    const std::string& element = micronutrient.element;
    if (confirms_high_rate(draft_, element) || !contained(element)) continue;
    const bool named = asked.contains(element) || has_maximum(element);
    const double most = named ? micronutrient.ceiling_kg_per_ha : micronutrient.granular.to;
    scenario_.ceilings_.push_back({element, most, named, contents_of(element)});
  }
}

}  // namespace leastwise
