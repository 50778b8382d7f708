#include "report/nutrient_cost_section.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {
namespace {

/// The nutrients for which a material of the blend has a price, in their order.
std::vector<std::string> nutrients_of(const CostPerNutrient& costs) {
  std::vector<std::string> nutrients;
  for (const MaterialNutrientCost& cost : costs.materials)
    if (cost.used && std::ranges::find(nutrients, cost.nutrient) == nutrients.end())
      nutrients.push_back(cost.nutrient);
  return nutrients;
}

std::string price_of(const CostPerNutrient& costs, const std::string& material,
                     const std::string& nutrient) {
  for (const MaterialNutrientCost& cost : costs.materials)
    if (cost.material == material && cost.nutrient == nutrient)
      return price_text(cost.price_per_kg);
  return {};
}

/// A row for each material of the blend that brings one of the nutrients, then the blend.
Table nutrient_cost_table(const Blend& blend, const std::vector<std::string>& nutrients) {
  const CostPerNutrient& costs = blend.cost_per_nutrient;
  Table table;
  table.add_words("material");
  for (const std::string& nutrient : nutrients) table.add_numbers(nutrient);
  for (const Portion& portion : blend.portions) {
    std::vector<std::string> row{portion.material};
    for (const std::string& nutrient : nutrients)
      row.push_back(price_of(costs, portion.material, nutrient));
    if (std::ranges::any_of(row.begin() + 1, row.end(),
                            [](const std::string& cell) { return !cell.empty(); }))
      table.add_row(std::move(row));
  }
  if (!costs.rest) return table;
  std::vector<std::string> row{"the blend"};
  for (const std::string& nutrient : nutrients) {
    const auto part = std::ranges::find(costs.blend, nutrient, &BlendNutrientCost::nutrient);
    row.push_back(part == costs.blend.end() ? "" : price_text(part->price_per_kg));
  }
  table.add_row(std::move(row));
  return table;
}

std::string nutrient_legend(const Blend& blend) {
  const CostPerNutrient& costs = blend.cost_per_nutrient;
  std::string words =
      "Of a material: price and freight over its content of that nutrient alone, as if its other "
      "nutrients came free.";
  if (!costs.rest) return words;
  const double cost = blend.cost_per_ha.value_or(blend.cost_per_t);
  words += fmt::format(
      " Of the blend: what the rules for that nutrient pay for; that makes {}",
      cost_text(cost - *costs.rest, blend.currency, unit_of_basis(blend.basis, blend.units)));
  if (std::fabs(*costs.rest) < 0.005) return words + ", the whole cost.";
  return words + fmt::format(", and {} goes to mass and other rules.", money_text(*costs.rest));
}

}  // namespace

void write_nutrient_costs(Page& page, const Blend& blend) {
  const auto nutrients = nutrients_of(blend.cost_per_nutrient);
  if (nutrients.empty()) return;
  page.heading(fmt::format("Cost per {} of nutrient, {}", unit_name(Measure::mass, blend.units),
                           currency_words(blend.currency)));
  page.table(nutrient_cost_table(blend, nutrients));
  page.item("  ", nutrient_legend(blend));
}

}  // namespace leastwise::report
