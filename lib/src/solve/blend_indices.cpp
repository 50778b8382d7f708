#include "solve/blend_indices.hpp"

#include <algorithm>

#include "chemistry/materials/critical_humidity.hpp"
#include "chemistry/materials/published_figures.hpp"
#include "scenario/units.hpp"

namespace leastwise::solve {
namespace {

constexpr double hundred = 100;

const Material& material_of(const Scenario& scenario, const Portion& portion) {
  return scenario.materials()[*scenario.index_of(portion.material)];
}

double percent_of(const Portion& portion) { return portion.kg_per_t / kg_per_tonne * hundred; }

/// What the granules have of a figure: `weight` times the mean of what `figure` makes of each.
template <class Figure>
BlendIndex mean_over_granules(const Scenario& scenario, std::span<const Portion> portions,
                              Figure figure) {
  BlendIndex index;
  double sum = 0;
  for (const Portion& portion : portions) {
    if (portion.form != Form::granule) continue;
    const std::optional<double> value = figure(material_of(scenario, portion));
    if (!value) {
      index.unknown.push_back(portion.material);
      continue;
    }
    sum += *value * percent_of(portion);
    index.known_percent += percent_of(portion);
  }
  if (index.known_percent > 0) index.value = sum / index.known_percent;
  return index;
}

/// Volumes add up: the mean volume of a kg, turned back.
BlendIndex bulk_density(const Scenario& scenario, std::span<const Portion> portions) {
  BlendIndex index = mean_over_granules(scenario, portions, [](const Material& material) {
    const auto& density = material.bulk_density_kg_per_m3;
    return density ? std::optional(1 / *density) : std::nullopt;
  });
  if (index.value) index.value = 1 / *index.value;
  return index;
}

void add_sizes(const Scenario& scenario, std::span<const Portion> portions, BlendIndices& indices) {
  indices.sgn =
      mean_over_granules(scenario, portions, [](const Material& material) { return material.sgn; });
  indices.ui =
      mean_over_granules(scenario, portions, [](const Material& material) { return material.ui; });
  for (const Portion& portion : portions) {
    const auto& sgn = material_of(scenario, portion).sgn;
    if (portion.form != Form::granule || !sgn) continue;
    indices.least_sgn = std::min(indices.least_sgn.value_or(*sgn), *sgn);
    indices.most_sgn = std::max(indices.most_sgn.value_or(*sgn), *sgn);
  }
}

BlendHumidity humidity(const Scenario& scenario, std::span<const Portion> portions) {
  BlendHumidity result;
  std::vector<std::string> families;
  for (const Portion& portion : portions) {
    const std::string& family = material_of(scenario, portion).family;
    families.push_back(family);
    if (critical_humidity({family}))
      result.known_percent += percent_of(portion);
    else
      result.unknown.push_back(portion.material);
  }
  const auto worst = critical_humidity(families);
  if (!worst) return result;
  result.percent = worst->percent;
  result.of = worst->of;
  result.is_pair = worst->is_pair;
  result.source = worst->source;
  return result;
}

}  // namespace

BlendIndex index_of(const Scenario& scenario, std::span<const Portion> portions,
                    std::string_view name) {
  BlendIndex index;
  double sum = 0;
  for (const Portion& portion : portions) {
    const auto value = published_figure(material_of(scenario, portion), name);
    if (!value) {
      index.unknown.push_back(portion.material);
      continue;
    }
    sum += *value * portion.kg_per_t;
    index.known_percent += percent_of(portion);
  }
  if (index.known_percent > 0) index.value = sum / kg_per_tonne;
  return index;
}

bool asks_for_indices(const Scenario& scenario) {
  const auto is_figure = [](const Target& target) { return is_published_figure(target.nutrient); };
  const ScenarioDraft& draft = scenario.draft();
  return draft.indices || draft.sgn || draft.dry_up_to_humidity_percent ||
         std::ranges::any_of(scenario.rates(), is_figure) ||
         std::ranges::any_of(scenario.grades(), is_figure);
}

BlendIndices blend_indices(const Scenario& scenario, std::span<const Portion> portions,
                           std::optional<double> total_kg_per_ha) {
  BlendIndices indices;
  indices.salt_index = index_of(scenario, portions, salt_index_name);
  indices.lime_need = index_of(scenario, portions, lime_need_name);
  if (indices.lime_need.value && total_kg_per_ha)
    indices.lime_need_kg_per_ha = *indices.lime_need.value / hundred * *total_kg_per_ha;
  indices.bulk_density_kg_per_m3 = bulk_density(scenario, portions);
  add_sizes(scenario, portions, indices);
  indices.humidity = humidity(scenario, portions);
  return indices;
}

}  // namespace leastwise::solve
