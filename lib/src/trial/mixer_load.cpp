#include "trial/mixer_load.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <tuple>

#include "trial/balances.hpp"
#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

constexpr double litres_per_m3 = 1000;

Weighing weighing_of(std::span<const Balance> balances, std::string material, Role role,
                     double target_mg) {
  const Balance& balance = balance_for(balances, target_mg);
  Weighing weighing;
  weighing.material = std::move(material);
  weighing.role = role;
  weighing.target_g = target_mg / mg_per_g;
  weighing.balance = balance.name;
  weighing.readability_mg = readability_mg(balance);
  weighing.mass_mg =
      std::max(weighing.readability_mg, rounded_to(target_mg, weighing.readability_mg));
  return weighing;
}

/// Adds whole digits to the granule on which one matters least until the load weighs `needed_mg`.
void top_up(std::vector<Weighing>& weighings, std::int64_t needed_mg) {
  const std::int64_t missing = needed_mg - mass_of_load(weighings);
  if (missing <= 0) return;
  Weighing* least = nullptr;
  double least_change = std::numeric_limits<double>::infinity();
  for (auto& weighing : weighings) {
    if (weighing.role != Role::granule || weighing.target_g <= 0) continue;
    const double change = static_cast<double>(weighing.readability_mg) / weighing.target_g;
    if (change < least_change) {
      least = &weighing;
      least_change = change;
    }
  }
  if (least == nullptr) return;
  const std::int64_t unit = least->readability_mg;
  least->mass_mg += (missing + unit - 1) / unit * unit;
}

/// kg/ha of each material that is weighed by itself: what the mixes bring is not.
std::vector<double> outside_mixes(const Scenario& scenario, const Product& product,
                                  const std::vector<MixUse>& uses,
                                  const std::vector<StockMix>& mixes) {
  constexpr double rounding = 1e-9;
  std::vector<double> kg = product.kg_per_ha;
  for (const auto& use : uses) {
    for (const auto& part : mixes[use.mix].parts) {
      const auto i = scenario.index_of(part.material);
      if (!i) continue;
      kg[*i] = part.carrier ? kg[*i] - use.kg_per_ha * part.fraction : 0;
      if (kg[*i] <= rounding * product.kg_per_ha[*i]) kg[*i] = 0;
    }
  }
  return kg;
}

}  // namespace

const Mixer& mixer_for(std::span<const Mixer> mixers, double mass_kg, double density) {
  const MixerKind wanted = mass_kg < bucket_limit_kg ? MixerKind::bucket : MixerKind::drum;
  const auto rank = [&](const Mixer& mixer) {
    const double capacity = capacity_kg(mixer.capacity_kg, mixer.capacity_litres, density);
    const bool fits = capacity >= mass_kg;
    return std::tuple(mixer.kind != wanted, !fits, fits ? capacity : -capacity);
  };
  return *std::min_element(mixers.begin(), mixers.end(),
                           [&rank](const Mixer& a, const Mixer& b) { return rank(a) < rank(b); });
}

std::int64_t mass_of_load(const std::vector<Weighing>& weighings) {
  return std::accumulate(
      weighings.begin(), weighings.end(), std::int64_t{0},
      [](std::int64_t sum, const Weighing& weighing) { return sum + weighing.mass_mg; });
}

std::vector<Weighing> rounded_load(const Trial& trial, const Scenario& scenario,
                                   const Product& product, const std::vector<MixUse>& uses,
                                   const std::vector<StockMix>& mixes, std::int64_t load_mg) {
  const double mg_per_share = static_cast<double>(load_mg) / product.total_kg_per_ha();
  const auto kg_per_ha = outside_mixes(scenario, product, uses, mixes);
  std::vector<Weighing> weighings;
  for (std::size_t i = 0; i < kg_per_ha.size(); ++i) {
    if (kg_per_ha[i] <= 0) continue;
    const Material& material = scenario.materials()[i];
    weighings.push_back(weighing_of(trial.balances(), material.name, role_of(material),
                                    kg_per_ha[i] * mg_per_share));
  }
  for (const auto& use : uses) {
    weighings.push_back(weighing_of(trial.balances(), mixes[use.mix].code, Role::powder,
                                    use.kg_per_ha * mg_per_share));
    weighings.back().mix = use.mix;
  }
  if (product.binder_kg_per_ha > 0) {
    weighings.push_back(weighing_of(trial.balances(), scenario.binder().material, Role::binder,
                                    product.binder_kg_per_ha * mg_per_share));
  }
  top_up(weighings, load_mg);
  std::stable_sort(weighings.begin(), weighings.end(), [](const Weighing& a, const Weighing& b) {
    return std::tuple(a.role, -a.target_g) < std::tuple(b.role, -b.target_g);
  });
  return weighings;
}

void split_weighings(std::span<const Balance> balances, std::vector<Weighing>& weighings) {
  for (auto& weighing : weighings) {
    const auto balance = std::find_if(balances.begin(), balances.end(),
                                      [&](const Balance& b) { return b.name == weighing.balance; });
    weighing.parts_mg = weighing_parts(*balance, weighing.mass_mg);
  }
}

double capacity_kg(const std::optional<double>& kg, const std::optional<double>& litres,
                   double bulk_density_kg_per_m3) {
  double capacity = kg.value_or(std::numeric_limits<double>::infinity());
  if (litres) capacity = std::min(capacity, *litres / litres_per_m3 * bulk_density_kg_per_m3);
  return capacity;
}

}  // namespace leastwise::trial
