#pragma once
#include <leastwise/note.hpp>
#include <leastwise/scenario.hpp>
#include <leastwise/trial_plan.hpp>

#include <string>
#include <vector>

namespace leastwise::trial {

/// What must be settled before anything is weighed: what is to be ground or screened, granules of
/// different size, pairs that may not be kept, and the humidity at which the mixture draws water.
[[nodiscard]] std::vector<Note> stop_conditions(const Scenario& scenario,
                                                const std::vector<Weighing>& load);

/// Adds to `conditions` those of `notes` that the person at the mixer must see before weighing:
/// rates above what is usual, a coating that falls off, what the balance rounds away, binders and
/// fillers that only a statement calls safe.
void add_warnings(const std::vector<Note>& notes, std::vector<Note>& conditions);

}  // namespace leastwise::trial
