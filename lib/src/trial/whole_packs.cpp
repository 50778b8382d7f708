#include "trial/whole_packs.hpp"

#include <algorithm>
#include <numeric>

namespace leastwise::trial {
namespace {

constexpr double most_waste = 0.1;

/// How many plots each unit has: 1, or those of a block.
std::vector<std::size_t> units_of(std::span<const PlotMass> plots, bool blocks) {
  std::vector<std::size_t> units;
  for (std::size_t p = 0; p < plots.size(); ++p) {
    if (blocks && p > 0 && plots[p].block == plots[p - 1].block) {
      ++units.back();
    } else {
      units.push_back(1);
    }
  }
  return units;
}

/// Fills loads of `capacity_mg` with whole units in turn.
std::vector<std::size_t> filled(std::span<const PlotMass> plots,
                                const std::vector<std::size_t>& units, std::int64_t capacity_mg) {
  std::vector<std::size_t> load_of_plot;
  std::size_t load = 0;
  std::int64_t in_load = 0;
  std::size_t p = 0;
  for (const std::size_t size : units) {
    std::int64_t mass = 0;
    for (std::size_t k = 0; k < size; ++k) mass += plots[p + k].mass_mg;
    if (in_load > 0 && in_load + mass > capacity_mg) {
      ++load;
      in_load = 0;
    }
    in_load += mass;
    load_of_plot.insert(load_of_plot.end(), size, load);
    p += size;
  }
  return load_of_plot;
}

std::int64_t largest_of(std::span<const PlotMass> plots, const std::vector<std::size_t>& loads) {
  std::vector<std::int64_t> sums(loads.back() + 1, 0);
  for (std::size_t p = 0; p < plots.size(); ++p) sums[loads[p]] += plots[p].mass_mg;
  return *std::ranges::max_element(sums);
}

/// The evenest way to put whole units into so many loads.
WholePacks evenest(std::span<const PlotMass> plots, bool blocks, std::size_t loads,
                   std::int64_t total_mg) {
  const auto units = units_of(plots, blocks);
  std::int64_t low = (total_mg - 1) / static_cast<std::int64_t>(loads);  // too little
  std::int64_t high = total_mg;                                          // enough
  while (high - low > 1) {
    const std::int64_t middle = low + (high - low) / 2;
    const auto trial = filled(plots, units, middle);
    const bool enough = trial.back() < loads && largest_of(plots, trial) <= middle;
    (enough ? high : low) = middle;
  }
  WholePacks packs;
  packs.load_of_plot = filled(plots, units, high);
  packs.largest_mg = largest_of(plots, packs.load_of_plot);
  return packs;
}

}  // namespace

std::optional<WholePacks> whole_packs(std::span<const PlotMass> plots, std::size_t loads,
                                      double most_mg) {
  std::int64_t total = 0;
  for (const auto& plot : plots) total += plot.mass_mg;
  if (total <= 0) return std::nullopt;
  for (const bool blocks : {true, false}) {
    auto packs = evenest(plots, blocks, loads, total);
    const auto made =
        static_cast<double>(packs.largest_mg) * static_cast<double>(packs.load_of_plot.back() + 1);
    if (static_cast<double>(packs.largest_mg) <= most_mg &&
        made <= static_cast<double>(total) * (1 + most_waste))
      return packs;
  }
  return std::nullopt;
}

}  // namespace leastwise::trial
