#pragma once
#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// A property of a blend worked out from figures of its materials, by mass.
struct BlendIndex {
  /// Salt index and lime need: per 100 kg of product, what is not known counted as 0. The others:
  /// of the granules that have a figure. Empty: nothing is known.
  std::optional<double> value{};
  double known_percent = 0;            ///< of the product: what has a figure
  std::vector<std::string> unknown{};  ///< materials without a figure
};

/// From which humidity a blend draws water, by published values at 30 C.
struct BlendHumidity {
  /// Relative humidity: the published value of the worst pair, else of the weakest salt alone,
  /// below which the mixture lies. Empty: no table has any of the materials.
  std::optional<double> percent{};
  std::string of{};                    ///< `potassium-chloride with urea`, or one salt
  bool is_pair = false;                ///< false: an upper bound
  std::string source{};                ///< of the value
  double known_percent = 0;            ///< of the product: what the tables have
  std::vector<std::string> unknown{};  ///< materials that they do not have
};

/// How a blend acts and handles: planning figures, each with the share of the product it covers.
struct BlendIndices {
  /// Sodium nitrate = 100, weighed by mass; Mortvedt 2001, lib/data/salt_index.csv.
  BlendIndex salt_index{};
  /// kg of calcium carbonate per 100 kg of product that make up for its acid; below 0: it makes up
  /// for acid itself. Tables in lib/data/acidity.csv, and stoichiometry.
  BlendIndex lime_need{};
  std::optional<double> lime_need_kg_per_ha{};  ///< the same for a hectare; empty per tonne
  /// Volumes added up: a blend whose small granules fill the gaps of large ones is denser.
  BlendIndex bulk_density_kg_per_m3{};
  BlendIndex sgn{};                   ///< mean size guide number, by mass
  std::optional<double> least_sgn{};  ///< of the granules in the blend
  std::optional<double> most_sgn{};   ///< of the granules in the blend
  BlendIndex ui{};                    ///< mean uniformity index, by mass
  BlendHumidity humidity{};           ///< of the worst pair
};

}  // namespace leastwise
