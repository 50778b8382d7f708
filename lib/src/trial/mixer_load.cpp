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

/// The mixer for so much: the kind that common practice asks for where there is one, then the
/// smallest that takes it at once, then the largest.
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

Weighing weighing_of(std::span<const Balance> balances, std::string material, Role role,
                     double target_mg) {
  const Balance& balance = balance_for(balances, target_mg);
  Weighing weighing;
  weighing.material = std::move(material);
  weighing.role = role;
  weighing.target_g = target_mg / mg_per_g;
  weighing.balance = balance.name;
  weighing.readability_mg = readability_mg(balance);
  weighing.mass_mg = rounded_to(target_mg, weighing.readability_mg);
  return weighing;
}

std::int64_t sum_of(const std::vector<Weighing>& weighings) {
  return std::accumulate(
      weighings.begin(), weighings.end(), std::int64_t{0},
      [](std::int64_t sum, const Weighing& weighing) { return sum + weighing.mass_mg; });
}

/// Adds whole digits to the granule on which one matters least until the load weighs `needed_mg`.
void top_up(std::vector<Weighing>& weighings, std::int64_t needed_mg) {
  const std::int64_t missing = needed_mg - sum_of(weighings);
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

std::vector<Weighing> rounded_load(const Trial& trial, const Scenario& scenario,
                                   const Product& product, std::int64_t load_mg) {
  const double mg_per_share = static_cast<double>(load_mg) / product.total_kg_per_ha();
  std::vector<Weighing> weighings;
  for (std::size_t i = 0; i < product.kg_per_ha.size(); ++i) {
    if (product.kg_per_ha[i] <= 0) continue;
    const Material& material = scenario.materials()[i];
    weighings.push_back(weighing_of(trial.balances(), material.name, role_of(material),
                                    product.kg_per_ha[i] * mg_per_share));
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

}  // namespace

double capacity_kg(const std::optional<double>& kg, const std::optional<double>& litres,
                   double bulk_density_kg_per_m3) {
  double capacity = kg.value_or(std::numeric_limits<double>::infinity());
  if (litres) capacity = std::min(capacity, *litres / litres_per_m3 * bulk_density_kg_per_m3);
  return capacity;
}

void plan_loads(const Trial& trial, const Scenario& scenario, const Product& product,
                std::int64_t needed_mg, TreatmentPlan& plan) {
  plan.bulk_density_kg_per_m3 = bulk_density_kg_per_m3(scenario, product);
  const Mixer& mixer = mixer_for(trial.mixers(), static_cast<double>(needed_mg) / mg_per_kg,
                                 plan.bulk_density_kg_per_m3);
  plan.mixer = mixer.name;
  plan.mixer_kind = mixer.kind;
  const double capacity =
      capacity_kg(mixer.capacity_kg, mixer.capacity_litres, plan.bulk_density_kg_per_m3) *
      mg_per_kg;
  auto loads = std::max<std::int64_t>(
      1, static_cast<std::int64_t>(std::ceil(static_cast<double>(needed_mg) / capacity - 1e-9)));
  // A load that rounding lifts over the capacity is split once more; balances may be so coarse
  // that this never ends, so it is tried a few times only and a note tells the rest.
  constexpr int most_tries = 4;
  for (int tries = 0; tries < most_tries; ++tries, ++loads) {
    plan.weighings = rounded_load(trial, scenario, product, (needed_mg + loads - 1) / loads);
    plan.load_mg = sum_of(plan.weighings);
    if (static_cast<double>(plan.load_mg) <= capacity * (1 + 1e-9)) break;
  }
  if (static_cast<double>(plan.load_mg) > capacity * (1 + 1e-9)) {
    --loads;
    plan.notes.push_back({NoteLevel::warning,
                          NoteCode::load_over_capacity,
                          {mixer.name},
                          "the balances are too coarse to keep a load within the capacity of the "
                          "mixer " +
                              mixer.name});
  }
  split_weighings(trial.balances(), plan.weighings);
  plan.total_mg = plan.load_mg * loads;
  for (std::int64_t i = 1; i <= loads; ++i) {
    plan.batch_codes.push_back((trial.code().empty() ? "" : trial.code() + "-") + plan.code + "-B" +
                               std::to_string(i));
  }
}

}  // namespace leastwise::trial
