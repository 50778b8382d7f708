#pragma once
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <string>
#include <vector>

namespace leastwise::report {

// Phrases on sites, plots and spreaders that all reports of a trial share.

/// `2 plots of 30 m2 in 4 replicates`.
[[nodiscard]] std::string site_text(const Site& site);

/// What headlands and border take, where there are any: `headlands of 12 m, 2 x 330 m2, ...`.
[[nodiscard]] std::vector<std::string> strip_lines(const TrialPlan& plan, std::size_t site);

/// A plot has a stake, which bears what it gets over all applications; a strip has none.
[[nodiscard]] bool has_stake(const Plot& plot);

/// The design of a site that has no complete blocks; empty for these.
[[nodiscard]] std::string design_text(const Site& site);

/// `101`, or `G1` of a guard plot.
[[nodiscard]] std::string plot_number_text(const Plot& plot);

/// The replicate of a plot, with its block where it has one: `2`, `2/1`; `-` of a guard plot.
[[nodiscard]] std::string block_text(const Plot& plot);

/// What one pass of 100 m takes of a product.
[[nodiscard]] double kg_per_100_m(const TreatmentPlan& treatment, const Spreader& spreader);

/// The width of a spreader and the passes it takes on the plots of each site.
[[nodiscard]] std::vector<std::string> spreader_lines(const TrialPlan& plan);

}  // namespace leastwise::report
