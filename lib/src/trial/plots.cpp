#include "trial/plots.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <tuple>

#include "trial/balances.hpp"
#include "trial/designs.hpp"
#include "trial/field.hpp"
#include "trial/mass.hpp"
#include "trial/mixer_load.hpp"
#include "trial/strips.hpp"

namespace leastwise::trial {
namespace {

std::string start_of_codes(const Trial& trial, const Site& site) {
  return (trial.code().empty() ? "" : trial.code() + "-") + site.code + "-";
}

/// The plots of one replicate, from 0.
void add_replicate(const Trial& trial, std::size_t s, std::size_t replicate,
                   const std::vector<Seat>& seats, std::vector<Plot>& plots) {
  constexpr std::size_t most_with_two_digits = 99;
  const Site& site = trial.sites()[s];
  const int slots = slots_in_replicate(trial, site);
  const int hundred = static_cast<std::size_t>(slots) > most_with_two_digits ? 1000 : 100;
  for (std::size_t i = 0; i < seats.size(); ++i) {
    const GridPlace place = place_of(site.field, slots, static_cast<int>(replicate), seats[i].slot);
    Plot plot;
    plot.site = s;
    plot.treatment = seats[i].treatment;
    plot.application = trial.treatments()[plot.treatment].application;
    plot.replicate = static_cast<int>(replicate) + 1;
    plot.block = seats[i].block;
    plot.number = plot.replicate * hundred + static_cast<int>(i) + 1;
    plot.row = place.row;
    plot.column = place.column;
    plot.area_m2 = site.plot_area_m2;
    plot.code = start_of_codes(trial, site) + std::to_string(plot.number);
    plots.push_back(std::move(plot));
  }
}

/// A plot of site `s` that is no part of the data and gets `treatment`; nothing without one.
std::optional<Plot> outer_plot(const Trial& trial, std::size_t s, const std::string& name) {
  const auto treatments = trial.treatments();
  const auto treatment = std::ranges::find(treatments, name, &Treatment::treatment);
  if (treatment == treatments.end()) return std::nullopt;
  Plot plot;
  plot.site = s;
  plot.treatment = static_cast<std::size_t>(treatment - treatments.begin());
  plot.application = treatment->application;
  plot.replicate = 0;
  plot.guard = true;
  plot.area_m2 = trial.sites()[s].plot_area_m2;
  return plot;
}

/// Beyond both ends of each row that has plots.
void add_guards(const Trial& trial, std::size_t s, int rows, std::vector<Plot>& plots) {
  const Site& site = trial.sites()[s];
  const auto guard = outer_plot(trial, s, site.field.guard_treatment);
  int number = 0;
  for (int row = 1; row <= rows && guard; ++row) {
    for (int side = 0; side < 2; ++side) {
      for (int k = 1; k <= site.field.guard_plots; ++k) {
        Plot plot = *guard;
        plot.number = ++number;
        plot.row = row;
        plot.column = side == 0 ? 1 - k : *site.field.columns + k;
        plot.code = start_of_codes(trial, site) + "G" + std::to_string(number);
        plots.push_back(std::move(plot));
      }
    }
  }
}

/// The headlands before the first and behind the last row, and the border round it all, where they
/// get a product.
void add_strips(const Trial& trial, std::size_t s, std::vector<Plot>& plots) {
  const Site& site = trial.sites()[s];
  const auto headland = outer_plot(trial, s, site.field.headland_treatment);
  for (int side = 0; side < 2 && headland && site.field.headland_m > 0; ++side) {
    Plot plot = *headland;
    plot.strip = StripKind::headland;
    plot.number = side + 1;
    plot.row = side == 0 ? 0 : *site.field.rows + 1;
    plot.area_m2 = headland_m2(site);
    plot.code = start_of_codes(trial, site) + "H" + std::to_string(plot.number);
    plots.push_back(std::move(plot));
  }
  const auto border = outer_plot(trial, s, site.field.border_treatment);
  if (!border || site.field.border_m <= 0) return;
  Plot plot = *border;
  plot.strip = StripKind::border;
  plot.number = 1;
  plot.row = plot.column = 0;
  plot.area_m2 = border_m2(site);
  plot.code = start_of_codes(trial, site) + "E1";
  plots.push_back(std::move(plot));
}

/// Every plot from `first` on once more for each later application of its treatment.
void add_later_applications(const Trial& trial, std::size_t first, std::vector<Plot>& plots) {
  const auto treatments = trial.treatments();
  const std::size_t end = plots.size();
  for (std::size_t k = 1; k < trial.applications().size(); ++k) {
    for (std::size_t p = first; p < end; ++p) {
      for (std::size_t t = plots[p].treatment + 1; t < treatments.size() && treatments[t].again;
           ++t) {
        if (treatments[t].application != k) continue;
        Plot plot = plots[p];
        plot.treatment = t;
        plot.application = k;
        plot.again = true;
        plots.push_back(std::move(plot));
      }
    }
  }
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
  std::vector<Plot> plots;
  for (std::size_t s = 0; s < trial.sites().size(); ++s) {
    const Site& site = trial.sites()[s];
    const std::size_t first = plots.size();
    const auto replicates = seats_of(trial, s);
    for (std::size_t r = 0; r < replicates.size(); ++r) {
      add_replicate(trial, s, r, replicates[r], plots);
    }
    int rows = 0;
    for (std::size_t i = first; i < plots.size(); ++i) {
      rows = std::max(rows, plots[i].row);
      if (!site.plot_areas_m2.empty()) plots[i].area_m2 = site.plot_areas_m2[i - first];
    }
    add_guards(trial, s, rows, plots);
    add_strips(trial, s, plots);
    add_later_applications(trial, first, plots);
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
