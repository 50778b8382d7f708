#pragma once
#include <leastwise/trial_plan.hpp>

#include <string>
#include <vector>

namespace leastwise::trial {

/// How to make a load, step by step. Times are about, common practice.
[[nodiscard]] std::vector<Step> order_of_work(const TreatmentPlan& plan);

/// The cautions that always apply, and how to keep what was made. `sample_g` is what is made of
/// each load to be kept; 0: nothing was planned for it.
[[nodiscard]] std::vector<std::string> general_cautions();
[[nodiscard]] std::vector<std::string> store_keeping(double sample_g);

}  // namespace leastwise::trial
