#pragma once
#include <leastwise/trial.hpp>

#include <cstddef>
#include <vector>

namespace leastwise::trial {

/// What stands on a plot, in the order in which plots are numbered.
struct Seat {
  std::size_t treatment = 0;
  int block = 0;  ///< whole plot or incomplete block in its replicate, from 1; 0: it has none
  int slot = 0;   ///< its place in the rectangle of the replicate, from 0
};

/// The seats of each replicate of a site.
///
/// Complete blocks: every treatment as often as the site and the treatment say, shuffled. Latin
/// square, incomplete blocks: `random_latin_square`, `alpha_design` with treatments, replicates,
/// blocks and plots shuffled (Patterson and Williams 1976). Split plot: whole plots shuffled, then
/// the treatments of each. Without a seed nothing is shuffled.
[[nodiscard]] std::vector<std::vector<Seat>> seats_of(const Trial& trial, std::size_t site);

/// How many places the rectangle of a replicate has: as many as the largest replicate has plots;
/// of incomplete blocks as many as blocks of the full size have.
[[nodiscard]] int slots_in_replicate(const Trial& trial, const Site& site);

}  // namespace leastwise::trial
