#include "trial/asked.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace leastwise::trial {
namespace {

constexpr std::array<std::string_view, 12> held_by_all{"N", "P2O5", "K2O", "S",  "Ca", "Mg",
                                                       "B", "Cu",   "Fe",  "Mn", "Mo", "Zn"};

/// Limits that a target states, in terms of `nutrient`; none when it is about another one.
Limits limits_in(std::span<const Target> targets, std::string_view nutrient) {
  for (const auto& target : targets) {
    if (target.nutrient == nutrient) return target.limits;
    const auto factor = conversion_factor(target.nutrient, nutrient);
    if (!same_nutrient(target.nutrient, nutrient) || !factor) continue;
    Limits limits = target.limits;
    limits.min *= *factor;
    limits.max *= *factor;
    return limits;
  }
  return {};
}

bool any_carries(const Trial& trial, const std::vector<std::size_t>& treatments,
                 std::string_view nutrient) {
  return std::ranges::any_of(treatments, [&](std::size_t t) {
    return std::ranges::any_of(
        trial.treatments()[t].scenario->materials(), [&](const Material& material) {
          return material.can_enter() && content_percent(material, nutrient) > 0;
        });
  });
}

}  // namespace

bool same_nutrient(std::string_view a, std::string_view b) {
  if (a == b) return true;
  const auto element = element_of(a);
  return element && element == element_of(b);
}

Asked asked_of(const Treatment& treatment, std::string_view nutrient) {
  Asked asked;
  const Scenario& scenario = treatment.whole ? *treatment.whole : *treatment.scenario;
  asked.rate_kg_per_ha = limits_in(scenario.rates(), nutrient);
  asked.grade_percent = limits_in(scenario.grades(), nutrient);
  if (scenario.basis() == Basis::per_tonne)
    asked.product_kg_per_ha =
        (treatment.whole ? scenario.product_kg_per_ha() : treatment.product_kg_per_ha).value_or(0);
  return asked;
}

std::vector<std::vector<std::size_t>> asking_alike(const Trial& trial,
                                                   const std::vector<std::size_t>& treatments,
                                                   std::string_view nutrient) {
  std::vector<std::vector<std::size_t>> groups;
  std::vector<Asked> asked;
  for (const std::size_t t : treatments) {
    const Asked mine = asked_of(trial.treatments()[t], nutrient);
    const auto same = std::ranges::find(asked, mine);
    if (same == asked.end()) {
      asked.push_back(mine);
      groups.push_back({t});
    } else {
      groups[static_cast<std::size_t>(same - asked.begin())].push_back(t);
    }
  }
  return groups;
}

std::vector<std::string> all_nutrients(const Trial& trial,
                                       const std::vector<std::size_t>& treatments) {
  std::vector<std::string> names;
  const auto add = [&](std::string_view name) {
    const bool known = std::ranges::any_of(
        names, [&](const std::string& other) { return same_nutrient(other, name); });
    if (!known) names.emplace_back(name);
  };
  for (const auto name : held_by_all) {
    if (any_carries(trial, treatments, name)) add(name);
  }
  for (const std::size_t t : treatments) {
    const Treatment& treatment = trial.treatments()[t];
    const Scenario& scenario = treatment.whole ? *treatment.whole : *treatment.scenario;
    for (const auto& rate : scenario.rates()) add(rate.nutrient);
    for (const auto& grade : scenario.grades()) add(grade.nutrient);
  }
  return names;
}

}  // namespace leastwise::trial
