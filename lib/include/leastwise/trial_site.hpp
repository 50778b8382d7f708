#pragma once
#include <leastwise/trial_design.hpp>
#include <leastwise/trial_field.hpp>

#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// Where plots lie. In complete blocks every treatment stands `plots_per_treatment` times its own
/// `repeat` in each replicate; other designs have it once.
struct SiteDraft {
  std::string name{};                       ///< as reports give it
  std::string code{};                       ///< on labels; `S1`, `S2` ... when empty
  int replicates = 1;                       ///< at least 1
  int plots_per_treatment = 1;              ///< in each replicate
  std::optional<double> plot_length_m{};    ///< with the width, or with rows
  std::optional<double> plot_width_m{};     ///< with the length
  std::optional<double> plot_area_m2{};     ///< instead of length and width
  std::vector<double> plot_areas_m2{};      ///< instead: one for each replicate, or for each plot
  std::optional<int> plot_rows{};           ///< crop rows of a plot, instead of its width
  std::optional<double> row_spacing_m{};    ///< between crop rows, with `plot_rows`
  Design design = Design::complete_blocks;  ///< how treatments are put on plots
  std::optional<int> block_size{};          ///< of incomplete blocks: the most plots in one
  FieldLayout field{};                      ///< how the plots lie
};

/// A site of a valid trial.
struct Site {
  std::string name{};                       ///< as reports give it
  std::string code{};                       ///< on labels
  int replicates = 1;                       ///< at least 1
  int plots_per_treatment = 1;              ///< in each replicate
  double plot_area_m2 = 0;                  ///< square metres; of unequal plots their mean
  std::vector<double> plot_areas_m2{};      ///< of unequal plots, in the order of their numbers
  std::optional<double> plot_length_m{};    ///< where it was stated
  std::optional<double> plot_width_m{};     ///< where it was stated, or follows from rows
  std::optional<int> plot_rows{};           ///< crop rows of a plot, where they were stated
  Design design = Design::complete_blocks;  ///< how treatments are put on plots
  std::optional<int> block_size{};          ///< of incomplete blocks
  FieldLayout field{};                      ///< how the plots lie; its counts are there
  /// Of incomplete blocks: harmonic mean of the canonical efficiency factors relative to complete
  /// blocks, and what no design of that size exceeds; 0 for other designs.
  double efficiency_factor = 0;
  double efficiency_bound = 0;  ///< see `efficiency_factor`
};

}  // namespace leastwise
