#pragma once
#include <leastwise/note.hpp>
#include <leastwise/trial_plan.hpp>

#include <vector>

namespace leastwise::trial {

/// The cautions for the people who handle a load, told from what is in it and how it is mixed.
[[nodiscard]] std::vector<Note> cautions_for(const Scenario& scenario, const TreatmentPlan& plan);

/// The cautions for those who dissolve `material` and spray it.
[[nodiscard]] std::vector<Note> cautions_for_solution(const Material& material);

/// The hazards of a product in a few words, worst first: what a label and the head of a sheet say.
/// They follow from the codes of `plan.cautions` and `plan.stop_conditions`.
[[nodiscard]] std::vector<Note> hazards_of_product(const TreatmentPlan& plan);

}  // namespace leastwise::trial
