#pragma once
#include <leastwise/trial.hpp>

namespace leastwise::trial {

/// What a site takes, in metres.
struct SiteSize {
  double across_m = 0;  ///< plots and guard plots side by side, with their paths; no border
  double along_m = 0;   ///< rows with their paths; no headland, no border
};

/// Of a site whose plots have sides and whose counts are there.
[[nodiscard]] SiteSize size_of(const Site& site);

/// Square metres of one of the two headlands.
[[nodiscard]] double headland_m2(const Site& site);

/// Square metres of the border, round plots and headlands.
[[nodiscard]] double border_m2(const Site& site);

}  // namespace leastwise::trial
