#include "trial/chance.hpp"

#include <cmath>
#include <numbers>

#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

constexpr double assumed_diameter_mm = 3;
constexpr double filled_share = 0.6;
constexpr double sgn_per_mm = 100;

}  // namespace

double granule_kg(const Material& material) {
  const double mm = material.sgn ? *material.sgn / sgn_per_mm : assumed_diameter_mm;
  const double density =
      material.bulk_density_kg_per_m3.value_or(assumed_density_kg_per_m3) / filled_share;
  const double metres = mm / 1000;
  return density * std::numbers::pi / 6 * metres * metres * metres;
}

std::vector<ShareVariation> share_variation(const Scenario& scenario, const Product& product,
                                            std::int64_t plot_mg) {
  const double total = product.total_kg_per_ha();
  const double plot_kg = static_cast<double>(plot_mg) / mg_per_kg;
  std::vector<ShareVariation> list;
  double mean_kg = 0;  // sum of shares times the mass of a granule
  const auto is_bulk = [&](std::size_t i) {
    return product.kg_per_ha[i] > 0 && role_of(scenario.materials()[i]) == Role::granule;
  };
  for (std::size_t i = 0; i < product.kg_per_ha.size(); ++i)
    if (is_bulk(i)) mean_kg += product.kg_per_ha[i] / total * granule_kg(scenario.materials()[i]);
  for (std::size_t i = 0; i < product.kg_per_ha.size(); ++i) {
    if (!is_bulk(i) || plot_kg <= 0) continue;
    const double share = product.kg_per_ha[i] / total;
    const double kg = granule_kg(scenario.materials()[i]);
    const double others = mean_kg - share * kg;
    const double variance =
        ((1 - share) * (1 - share) * share * kg + share * share * others) / plot_kg;
    list.push_back({scenario.materials()[i].name, share * plot_kg / kg, 100 * share,
                    100 * std::sqrt(variance) / share});
  }
  return list;
}

}  // namespace leastwise::trial
