#pragma once
#include <leastwise/trial.hpp>

#include <string>
#include <vector>

namespace leastwise::trial_test {

/// Materials of a starter blend with zinc oxide and boric acid to be coated on, and what is asked.
[[nodiscard]] ScenarioDraft starter();

/// A trial of one site with 4 replicates of 20 m2, one bucket of 10 kg, two balances, no spare, and
/// `treatments`.
[[nodiscard]] TrialDraft small_trial(std::vector<TreatmentDraft> treatments);

/// A treatment that is solved.
[[nodiscard]] TreatmentDraft solved(std::string name, const ScenarioDraft& scenario);

/// A fixed recipe of a granule `base` and a powder `powder`, both of which hold 10 % N.
[[nodiscard]] TreatmentDraft recipe(double base_kg_per_ha, double powder_kg_per_ha);

}  // namespace leastwise::trial_test
