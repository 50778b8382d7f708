#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace leastwise {

/// Whether and how powders are dissolved in water and sprayed on the plots, where no load can be
/// weighed and mixed that keeps the rules of a treatment.
struct Solutions {
  bool allowed = true;         ///< else such a treatment is not made
  double litres_per_ha = 500;  ///< of solution; it is so thin that a litre counts as a kilogram
  /// g that a litre of water takes up, of materials that the built-in table does not know or knows
  /// otherwise.
  std::vector<std::pair<std::string, double>> solubility_g_per_l{};
};

/// A powder of a treatment that is no part of its product: it is sprayed on the plots.
struct Spray {
  std::string material{};            ///< its name
  double kg_per_ha = 0;              ///< of the material, as the blend asks for it
  double solution_kg_per_ha = 0;     ///< of solution
  std::optional<std::size_t> mix{};  ///< into `TrialPlan::mixes`: the solution
  std::int64_t plots_mg = 0;         ///< of solution on all plots
};

/// What a plot gets of one solution.
struct PlotSpray {
  std::size_t spray = 0;            ///< into `TreatmentPlan::sprays`
  std::int64_t mass_mg = 0;         ///< of solution
  std::string balance{};            ///< what it is weighed on
  std::int64_t readability_mg = 1;  ///< of that balance
};

}  // namespace leastwise
