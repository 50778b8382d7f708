#include "trial/plots.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

#include "trial/balances.hpp"
#include "trial/mass.hpp"
#include "trial/mixer_load.hpp"
#include "trial/random_order.hpp"

namespace leastwise::trial {
namespace {

std::vector<std::size_t> treatments_of_replicate(const Trial& trial, const Site& site) {
  std::vector<std::size_t> order;
  for (int repeat = 0; repeat < site.plots_per_treatment; ++repeat) {
    for (std::size_t t = 0; t < trial.treatments().size(); ++t) order.push_back(t);
  }
  return order;
}

const Container* container_for(const Trial& trial, double mass_kg, double density) {
  if (trial.containers().empty()) return nullptr;
  const auto rank = [&](const Container& container) {
    const double capacity = capacity_kg(container.capacity_kg, container.capacity_litres, density);
    const bool fits = capacity >= mass_kg;
    return std::tuple(!fits, fits ? capacity : -capacity);
  };
  return &*std::min_element(
      trial.containers().begin(), trial.containers().end(),
      [&rank](const Container& a, const Container& b) { return rank(a) < rank(b); });
}

/// Rounds the target to the balance that weighs `count` parts of it, and parts it.
Packing parted(const Trial& trial, double target_mg, std::int64_t count) {
  const Balance& balance = balance_for(trial.balances(), target_mg / static_cast<double>(count));
  Packing packing;
  packing.target_mg = target_mg;
  packing.balance = balance.name;
  packing.readability_mg = readability_mg(balance);
  packing.masses_mg =
      parts_of(rounded_to(target_mg, packing.readability_mg), count, packing.readability_mg);
  return packing;
}

}  // namespace

std::vector<Plot> lay_out(const Trial& trial) {
  constexpr std::size_t most_with_two_digits = 99;
  std::vector<Plot> plots;
  const std::string start = trial.code().empty() ? "" : trial.code() + "-";
  for (std::size_t s = 0; s < trial.sites().size(); ++s) {
    const Site& site = trial.sites()[s];
    for (int replicate = 1; replicate <= site.replicates; ++replicate) {
      auto order = treatments_of_replicate(trial, site);
      if (trial.seed()) {
        RandomOrder(*trial.seed(), s, static_cast<std::uint64_t>(replicate)).shuffle(order);
      }
      const int hundred = order.size() > most_with_two_digits ? 1000 : 100;
      for (std::size_t i = 0; i < order.size(); ++i) {
        Plot plot;
        plot.site = s;
        plot.treatment = order[i];
        plot.replicate = replicate;
        plot.number = replicate * hundred + static_cast<int>(i) + 1;
        plot.area_m2 = site.plot_area_m2;
        plot.code = start + site.code + "-" + std::to_string(plot.number);
        plots.push_back(std::move(plot));
      }
    }
  }
  return plots;
}

Packing packing_of(const Trial& trial, double target_mg, double bulk_density_kg_per_m3) {
  const Container* container = container_for(trial, target_mg / mg_per_kg, bulk_density_kg_per_m3);
  if (container == nullptr) return parted(trial, target_mg, 1);
  const double capacity =
      mg_per_kg *
      capacity_kg(container->capacity_kg, container->capacity_litres, bulk_density_kg_per_m3);
  auto count =
      std::max<std::int64_t>(1, static_cast<std::int64_t>(std::ceil(target_mg / capacity - 1e-9)));
  Packing packing = parted(trial, target_mg, count);
  constexpr int most_tries = 4;  // a coarse digit may lift a part over the capacity
  for (int tries = 0; tries < most_tries; ++tries) {
    if (static_cast<double>(packing.masses_mg.front()) <= capacity * (1 + 1e-9)) break;
    packing = parted(trial, target_mg, ++count);
  }
  packing.container = container->name;
  return packing;
}

}  // namespace leastwise::trial
