#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstdint>
#include <string>
#include <vector>

namespace leastwise::trial {

/// Every plot of the trial, by site, replicate and number, without packs.
///
/// Treatments stand as `seats_of` has them. Plots are numbered 101, 102 ... in the first replicate,
/// 201 ... in the second; 1001 ... where a replicate has over 99. Guard plots follow, then
/// headlands and border, in replicate 0 and numbered from 1; then all plots of later applications,
/// `again`.
[[nodiscard]] std::vector<Plot> lay_out(const Trial& trial);

/// The product of one plot, in containers.
struct Packing {
  std::string container{};  ///< empty when no containers were named
  std::string balance{};
  double target_mg = 0;
  std::int64_t readability_mg = 1;
  std::vector<std::int64_t> masses_mg{};
};

/// Packs `target_mg` of a product into the smallest container that takes it, else into several of
/// the largest, each mass a multiple of what the balance reads.
[[nodiscard]] Packing packing_of(const Trial& trial, double target_mg,
                                 double bulk_density_kg_per_m3);

}  // namespace leastwise::trial
