#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "proof/prover.hpp"

namespace leastwise {
namespace {

/// How far the answer's cost may lie from the exact one, relative to what changes hands.
constexpr double agreement = 1e-9;

/// What is wrong with the answer in the light of the proof; empty when they agree.
std::string disagreement(const Formulation& answer, const proof::ProverResult& exact) {
  const bool optimal = exact.proof.claim == "optimal";
  if (answer.status() == Status::stopped) return {};
  if (answer.status() == Status::infeasible && optimal)
    return "exact arithmetic finds a blend where rounded numbers find none";
  if (answer.status() == Status::optimal && !optimal)
    return "the rules contradict each other by less than rounded numbers can tell";
  if (!optimal) return {};
  const Blend& blend = *answer.blend();
  const double cost = blend.cost_per_ha.value_or(blend.cost_per_t);
  const auto size = exact.turnover.convert_to<double>();
  if (std::fabs(cost - exact.cost.convert_to<double>()) <= agreement * size + 1e-12) return {};
  return "the cost found with rounded numbers is not the exact least cost";
}

bool buys_by_quantity(const Scenario& scenario) {
  return scenario.has_price_tiers() ||
         std::ranges::any_of(scenario.materials(),
                             [](const Material& m) { return m.minimum_lot_t.has_value(); });
}

Stopped numerical(const Scenario& scenario, std::string detail) {
  Stopped stopped;
  stopped.title = scenario.title();
  stopped.currency = scenario.currency();
  stopped.units = scenario.draft().units;
  stopped.basis = scenario.basis();
  stopped.cause = StopCause::numerical;
  stopped.detail = std::move(detail);
  stopped.notes.assign(scenario.notes().begin(), scenario.notes().end());
  return stopped;
}

}  // namespace

ProvenFormulation formulate_with_proof(const Scenario& scenario, const SolveOptions& options) {
  const auto deadline = base::deadline_after(options.time_limit);
  ProvenFormulation result{formulate(scenario, options), std::nullopt, {}};
  const auto* stopped = result.answer.stopped();
  if (stopped != nullptr && stopped->cause != StopCause::numerical) {
    result.why_no_proof = "the search was stopped before it had an answer to prove";
    return result;
  }
  if (buys_by_quantity(scenario)) {
    result.why_no_proof =
        "a proof in exact fractions knows no price tiers and no minimum lots; the answer itself is "
        "checked as any other";
    return result;
  }
  const auto model = model::build(scenario);
  solver::SearchOptions search;
  search.deadline = deadline;
  search.stop = options.stop;
  search.record_leaves = true;
  auto found = solver::search(model, solver::asked(search));
  if (found.status != solver::SearchStatus::optimal &&
      found.status != solver::SearchStatus::infeasible)
    found = {};  // the exact search starts afresh
  try {
    auto exact =
        proof::prove(scenario, model, found, base::stop_check_until(deadline, options.stop));
    const auto check = verify(exact.proof, scenario);
    if (check.verdict == ProofVerdict::not_proved) {
      result.why_no_proof = "the proof did not stand: " + check.detail;
      return result;
    }
    const auto wrong = disagreement(result.answer, exact);
    if (!wrong.empty()) result.answer = numerical(scenario, wrong);
    result.proof = std::move(exact.proof);
  } catch (const base::Interrupted&) {
    result.why_no_proof = "time was up, or the work was cancelled, before the proof was complete";
  } catch (const std::runtime_error& error) {
    result.why_no_proof = error.what();
  }
  return result;
}

}  // namespace leastwise
