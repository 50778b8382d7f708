#include "trial/product.hpp"

#include <numeric>

#include "scenario/units.hpp"

namespace leastwise::trial {

double Product::total_kg_per_ha() const {
  return std::accumulate(kg_per_ha.begin(), kg_per_ha.end(), binder_kg_per_ha + inert_kg_per_ha);
}

Role role_of(const Material& material) {
  return material.form_used() == Form::granule ? Role::granule : Role::powder;
}

Product product_of(const Scenario& scenario, const Blend& blend, double product_kg_per_ha) {
  const bool per_hectare = blend.basis == Basis::per_hectare;
  Product product;
  product.kg_per_ha.assign(scenario.materials().size(), 0);
  for (const auto& portion : blend.portions) {
    const auto index = scenario.index_of(portion.material);
    if (!index) continue;
    product.kg_per_ha[*index] = per_hectare ? portion.kg_per_ha.value_or(0)
                                            : portion.kg_per_t * product_kg_per_ha / kg_per_tonne;
  }
  product.binder_kg_per_ha = per_hectare ? blend.binder.kg_per_ha.value_or(0)
                                         : blend.binder.kg_per_t * product_kg_per_ha / kg_per_tonne;
  return product;
}

Product product_of(const Treatment& treatment) {
  const Scenario& scenario = *treatment.scenario;
  Product product;
  product.kg_per_ha.assign(scenario.materials().size(), 0);
  double powders = 0;
  for (const auto& portion : treatment.recipe_kg_per_ha) {
    const std::size_t i = *scenario.index_of(portion.material);
    product.kg_per_ha[i] += portion.kg_per_ha;
    if (role_of(scenario.materials()[i]) == Role::powder) powders += portion.kg_per_ha;
  }
  product.binder_kg_per_ha = powders * scenario.binder().percent_of_powder / 100;
  return product;
}

double bulk_density_kg_per_m3(const Scenario& scenario, const Product& product) {
  double volume = (product.binder_kg_per_ha + product.inert_kg_per_ha) / assumed_density_kg_per_m3;
  for (std::size_t i = 0; i < product.kg_per_ha.size(); ++i) {
    volume += product.kg_per_ha[i] /
              scenario.materials()[i].bulk_density_kg_per_m3.value_or(assumed_density_kg_per_m3);
  }
  return volume > 0 ? product.total_kg_per_ha() / volume : assumed_density_kg_per_m3;
}

}  // namespace leastwise::trial
