#pragma once
#include <leastwise/trial.hpp>
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::trial {

/// The share of `what` that application `k` of `applications` gets, from 0 to 1.
///
/// Of a form, such as N-nitrate, the share of its nutrient; of oxide and element the same. What
/// `splits` do not list goes out with the product where that is listed, else all at once in the
/// first application.
[[nodiscard]] double share_of(std::span<const SplitShares> splits,
                              std::span<const Application> applications, std::string_view what,
                              std::size_t k);

/// What application `k` asks of a treatment. The limits of all applications add up to those of the
/// whole: a minimum, an exact rate and a stated share of a maximum by `share_of`; a maximum alone,
/// whose nutrient is not listed, in equal parts over the `count` applications that spread
/// something. Grades, ratios, shares of materials and the coating hold for each product.
[[nodiscard]] ScenarioDraft part_of(const Scenario& whole, std::span<const SplitShares> splits,
                                    std::span<const Application> applications, std::size_t k,
                                    std::size_t count);

/// The products of each treatment, in the order of the trial: positions in `Trial::treatments`.
[[nodiscard]] std::vector<std::vector<std::size_t>> products_of(const Trial& trial);

/// The treatments as they are put on plots: the first product of each.
[[nodiscard]] std::vector<std::size_t> on_plots(const Trial& trial);

/// What each treatment comes to over its applications.
[[nodiscard]] std::vector<TreatmentTotal> totals_of(const Trial& trial, const TrialPlan& plan);

/// Takes away the products of a treatment that comes above a ceiling of its scenario only over all
/// of its applications; its notes say so.
void hold_totals_to_ceilings(const Trial& trial, TrialPlan& plan);

}  // namespace leastwise::trial
