#pragma once
#include <leastwise/trial_plan.hpp>

#include <cstddef>
#include <string>

#include "report/kit/table.hpp"

namespace leastwise::report {

/// `application 2 of 3: six leaves, V6, 2026-06-01`; empty where everything is spread at once.
[[nodiscard]] std::string application_text(const TrialPlan& plan, std::size_t application);

/// How many rounds of lists a plan has: one for each application, at least one.
[[nodiscard]] std::size_t rounds_of(const TrialPlan& plan);

/// Whether a plot of `site` gets something, or is a control, at `application`.
[[nodiscard]] bool has_plots(const TrialPlan& plan, std::size_t site, std::size_t application);

/// Nutrients of each product and their sum, of treatments with several; no rows without any.
[[nodiscard]] Table application_totals(const TrialPlan& plan);

/// The code of a plot as the labels of its packs begin: `SN-BF-102-A1` where there are
/// applications.
[[nodiscard]] std::string label_of(const TrialPlan& plan, const Plot& plot);

/// What a treatment puts on its plots: `168 kg/ha`, `90 kg/ha at planting + 120 at six leaves`.
[[nodiscard]] std::string products_text(const TrialPlan& plan, const TreatmentTotal& total);

}  // namespace leastwise::report
