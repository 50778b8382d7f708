#include "support/answers.hpp"

#include <algorithm>

#include "support/audit.hpp"

namespace leastwise::support {

Reply reply_to(const ScenarioDraft& draft, bool intervals) {
  std::optional<Scenario> scenario;
  try {
    scenario.emplace(draft);
  } catch (const InputError& error) {
    const auto& found = error.diagnostics();
    const bool nothing_asked = std::all_of(
        found.begin(), found.end(), [](const Diagnostic& d) { return d.code == "nothing-asked"; });
    return {nothing_asked ? PeerOutcome::empty : PeerOutcome::refused, 0, {}};
  }
  Formulation answer = formulate(*scenario, {.intervals = intervals});
  if (answer.stopped() != nullptr) return {PeerOutcome::stopped, 0, std::move(answer)};
  const Blend* blend = answer.blend();
  const double cost = blend == nullptr ? 0 : cost_of(*blend);
  return {blend == nullptr ? PeerOutcome::impossible : PeerOutcome::blend, cost, std::move(answer)};
}

}  // namespace leastwise::support
