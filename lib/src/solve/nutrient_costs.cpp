#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "scenario/units.hpp"
#include "solve/answer.hpp"

namespace leastwise::solve {
namespace {

/// The nutrients that the scenario asks for by a minimum or an exact amount, each once; a share
/// that is no nutrient has no price per kg.
std::vector<const Target*> asked_nutrients(const Scenario& scenario) {
  std::vector<const Target*> asked;
  const auto add = [&](std::span<const Target> targets) {
    for (const Target& target : targets)
      if (target.limits.has_min() && kind_of(target.nutrient) != NameKind::property &&
          std::ranges::find(asked, target.nutrient, &Target::nutrient) == asked.end())
        asked.push_back(&target);
  };
  add(scenario.rates());
  add(scenario.grades());
  return asked;
}

void add_materials(const Scenario& scenario, const Target& target, Blend& blend) {
  std::vector<MaterialNutrientCost> costs;
  for (std::size_t i = 0; i < scenario.materials().size(); ++i) {
    const Material& material = scenario.materials()[i];
    const double content = target.content_percent[i];
    if (content <= 0) continue;
    const auto portion = std::ranges::find(blend.portions, material.name, &Portion::material);
    const bool used = portion != blend.portions.end();
    const double kg = used ? portion->kg_per_ha.value_or(portion->kg_per_t) : 0;
    const double per_kg =
        (scenario.price_paid_per_t(i, kg) + material.freight_per_t) / kg_per_tonne;
    costs.push_back({material.name, used, target.nutrient, content, per_kg / (content / 100)});
  }
  std::ranges::stable_sort(costs, {}, &MaterialNutrientCost::price_per_kg);
  auto& all = blend.cost_per_nutrient.materials;
  all.insert(all.end(), costs.begin(), costs.end());
}

/// What the rules for the rate and the grade of a nutrient pay for.
double paid_for(const Blend& blend, const std::string& nutrient) {
  double cost = 0;
  for (const CostPart& part : blend.cost_parts)
    if (part.id && part.id->subject == nutrient &&
        (part.id->kind == RuleKind::rate || part.id->kind == RuleKind::grade))
      cost += part.cost;
  return cost;
}

void add_of_blend(const Target& target, Blend& blend) {
  const auto supply = std::ranges::find(blend.supply, target.nutrient, &Supply::nutrient);
  if (supply == blend.supply.end()) return;
  const double kg = supply->kg_per_ha.value_or(supply->percent / 100 * kg_per_tonne);
  if (kg <= 0) return;
  const double cost = paid_for(blend, target.nutrient);
  blend.cost_per_nutrient.blend.push_back({target.nutrient, kg, cost / kg, cost});
  *blend.cost_per_nutrient.rest -= cost;
}

}  // namespace

void add_nutrient_costs(const Scenario& scenario, Blend& blend) {
  const auto asked = asked_nutrients(scenario);
  for (const Target* target : asked) add_materials(scenario, *target, blend);
  if (!blend.cost_parts_add_up || asked.empty()) return;
  const double cost = blend.cost_per_ha.value_or(blend.cost_per_t);
  auto& rest = blend.cost_per_nutrient.rest;
  rest = cost;
  for (const Target* target : asked) add_of_blend(*target, blend);
  // What rounding leaves is nothing.
  if (std::fabs(*rest) <= 1e-9 * std::max(1.0, std::fabs(cost))) rest = 0;
}

}  // namespace leastwise::solve
