#pragma once
#include <leastwise/export.h>

#include <string_view>

namespace leastwise {

/// How the treatments of a site are put on its plots; in random order where the trial has a seed.
enum class Design {
  complete_blocks,    ///< every replicate holds every treatment, in an order of its own
  latin_square,       ///< each treatment once in every row and every column
  split_plot,         ///< whole plots in random order, their treatments in random order within
  incomplete_blocks,  ///< replicates of small blocks: an alpha design, or a square lattice
};

/// The spelling used in trial files and reports: `latin-square`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Design design);

}  // namespace leastwise
