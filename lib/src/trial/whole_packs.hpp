#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace leastwise::trial {

/// The product of one plot, and the block it stands in.
struct PlotMass {
  std::int64_t mass_mg = 0;
  int block = 0;  ///< plots of one block stand side by side
};

/// Plots shared out to equal loads, so that no plot takes from two.
struct WholePacks {
  std::vector<std::size_t> load_of_plot{};  ///< rising from 0 without a gap
  std::int64_t largest_mg = 0;              ///< what the fullest load gives to plots
};

/// The plots in turn in at most `loads` loads of which none gives more than `most_mg`: by whole
/// blocks if that wastes little, else by whole plots; nothing where either wastes more than
/// a tenth. All loads are alike, so that what a load gives less than the fullest one is spare.
[[nodiscard]] std::optional<WholePacks> whole_packs(std::span<const PlotMass> plots,
                                                    std::size_t loads, double most_mg);

}  // namespace leastwise::trial
