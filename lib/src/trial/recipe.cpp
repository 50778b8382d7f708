#include "trial/recipe.hpp"

#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <array>
#include <tuple>

#include "trial/asked.hpp"
#include "trial/mass.hpp"
#include "trial/purchases.hpp"
#include "trial/stock_mix.hpp"

namespace leastwise::trial {
namespace {

constexpr double kg_per_tonne = 1000;
constexpr std::array<std::string_view, 3> always{"N", "P2O5", "K2O"};
/// A content below this is an impurity that no grade states.
constexpr double least_percent = 0.005;

std::int64_t in_loads(const std::string& name, Role role, const std::vector<Weighing>& load,
                      std::size_t loads) {
  std::int64_t mg = 0;
  for (const auto& weighing : load) {
    const bool binder = role == Role::binder && weighing.role == Role::binder;
    if (binder ||
        (role != Role::binder && weighing.role != Role::binder && weighing.material == name))
      mg += weighing.mass_mg;
  }
  return mg * static_cast<std::int64_t>(loads);
}

double percent_in(const Scenario& scenario, const Product& product, std::string_view nutrient) {
  double kg = 0;
  for (std::size_t i = 0; i < product.kg_per_ha.size(); ++i)
    kg += content_percent(scenario.materials()[i], nutrient) / 100 * product.kg_per_ha[i];
  return 100 * kg / product.total_kg_per_ha();
}

std::vector<GradePart> grade_of(const Scenario& scenario, const Product& product) {
  std::vector<GradePart> grade;
  for (const auto name : always)
    grade.push_back({std::string(name), percent_in(scenario, product, name)});
  for (const auto& reported : scenario.reported()) {
    const auto kind = kind_of(reported.nutrient);
    if (kind != NameKind::element && kind != NameKind::oxide) continue;
    const bool known = std::ranges::any_of(grade, [&](const GradePart& part) {
      return same_nutrient(part.nutrient, reported.nutrient);
    });
    const double percent = percent_in(scenario, product, reported.nutrient);
    if (!known && percent >= least_percent) grade.push_back({reported.nutrient, percent});
  }
  return grade;
}

}  // namespace

Recipe recipe_of(const Scenario& scenario, const Product& product,
                 const std::vector<Weighing>& load, std::size_t loads) {
  Recipe recipe;
  const double total = product.total_kg_per_ha();
  const auto add = [&](std::string name, Role role, double kg, double price) {
    if (kg <= 0) return;
    RecipeLine line;
    line.in_loads_mg = in_loads(name, role, load, loads);
    line.material = std::move(name);
    line.role = role;
    line.kg_per_ha = kg;
    line.percent = 100 * kg / total;
    line.price_per_t = price;
    line.cost_per_ha = kg * price / kg_per_tonne;
    recipe.cost_of_loads +=
        static_cast<double>(line.in_loads_mg) / mg_per_kg * price / kg_per_tonne;
    recipe.cost_per_ha += line.cost_per_ha;
    recipe.lines.push_back(std::move(line));
  };
  for (std::size_t i = 0; i < product.kg_per_ha.size(); ++i) {
    const Material& material = scenario.materials()[i];
    add(material.name, role_of(material), product.kg_per_ha[i],
        material.price_per_t + material.freight_per_t);
  }
  add(std::string(unnamed_carrier), Role::powder, product.inert_kg_per_ha, 0);
  const std::string& binder = scenario.binder().material;
  add(binder.empty() ? std::string(unnamed_binder) : binder, Role::binder, product.binder_kg_per_ha,
      scenario.binder().price_per_t);
  std::ranges::stable_sort(recipe.lines, {}, [](const RecipeLine& line) {
    return std::tuple(line.role, -line.kg_per_ha);
  });
  std::int64_t made_mg = 0;
  for (const auto& weighing : load) made_mg += weighing.mass_mg * static_cast<std::int64_t>(loads);
  recipe.cost_per_ha += total * scenario.blending_fee_per_t() / kg_per_tonne;
  recipe.cost_of_loads +=
      static_cast<double>(made_mg) / mg_per_kg * scenario.blending_fee_per_t() / kg_per_tonne;
  recipe.grade = grade_of(scenario, product);
  return recipe;
}

void add_sprayed(const Scenario& scenario, const std::vector<Spray>& sprays,
                 const std::vector<StockMix>& mixes, Recipe& recipe) {
  for (const auto& spray : sprays) {
    const Material& material = scenario.materials()[*scenario.index_of(spray.material)];
    RecipeLine line;
    line.material = spray.material;
    line.role = Role::dissolved;
    line.kg_per_ha = spray.kg_per_ha;
    line.price_per_t = material.price_per_t + material.freight_per_t;
    line.cost_per_ha = spray.kg_per_ha * line.price_per_t / kg_per_tonne;
    recipe.cost_per_ha += line.cost_per_ha;
    const auto mg = parts_of_mix(mixes[*spray.mix], spray.plots_mg).front();
    recipe.cost_of_loads += static_cast<double>(mg) / mg_per_kg * line.price_per_t / kg_per_tonne;
    recipe.lines.push_back(std::move(line));
  }
}

}  // namespace leastwise::trial
