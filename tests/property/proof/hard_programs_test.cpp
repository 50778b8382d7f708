#include <doctest/doctest.h>
#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

#include <cstdlib>
#include <map>
#include <string>

#include "property/proof/hard_draft.hpp"

using namespace leastwise;

namespace {

/// How many questions to ask; 20 000 is the full run.
std::uint64_t questions() {
  const char* asked = std::getenv("LEASTWISE_HARD_SCENARIOS");
  return asked != nullptr ? std::strtoull(asked, nullptr, 10) : 800;
}
std::uint64_t first_question() {
  const char* asked = std::getenv("LEASTWISE_HARD_FIRST");
  return asked != nullptr ? std::strtoull(asked, nullptr, 10) : 0;
}

struct Verdicts {
  int optimal = 0;
  int infeasible = 0;
  int contradicted = 0;
  int numerical = 0;
  int within = 0;
  int unproved = 0;
};

void ask(std::uint64_t seed, Verdicts& tally) {
  const auto scenario = Scenario(support::hard_draft(seed));
  const auto proven = formulate_with_proof(scenario, {.intervals = false});
  const auto* stopped = proven.answer.stopped();
  const std::string detail = stopped != nullptr ? stopped->detail : "";
  if (!proven.proof) {
    ++tally.unproved;
    MESSAGE("seed " << seed << " has no proof: " << proven.why_no_proof);
    return;
  }
  const auto verification = verify(*proven.proof, scenario);
  if (verification.verdict == ProofVerdict::not_proved) {
    ++tally.unproved;
    MESSAGE("seed " << seed << " is not proved: " << verification.detail);
  }
  if (verification.verdict == ProofVerdict::proved_within_1e_9) ++tally.within;
  ++(proven.proof->claim == "optimal" ? tally.optimal : tally.infeasible);
  if (stopped == nullptr) return;
  const bool contradicted = detail.find("rounded numbers") != std::string::npos;
  ++(contradicted ? tally.contradicted : tally.numerical);
  MESSAGE("seed " << seed << " (" << support::to_string(support::hardship_of(seed)) << ", proved "
                  << proven.proof->claim << "): " << detail);
}

}  // namespace

TEST_SUITE("hard programs") {
  TEST_CASE("every verdict on a hard question is the one that exact arithmetic proves") {
    std::map<support::Hardship, Verdicts> tallies;
    const auto first = first_question();
    for (std::uint64_t seed = first; seed < first + questions(); ++seed)
      ask(seed, tallies[support::hardship_of(seed)]);
    int numerical = 0;
    for (const auto& [hardship, tally] : tallies) {
      MESSAGE(support::to_string(hardship)
              << ": " << tally.optimal << " optimal, " << tally.infeasible << " infeasible, "
              << tally.within << " within 1e-9, " << tally.contradicted << " contradicted, "
              << tally.numerical << " numerical, " << tally.unproved << " unproved");
      CHECK(tally.contradicted == 0);
      CHECK(tally.unproved == 0);
      numerical += tally.numerical;
    }
    CHECK(numerical <= static_cast<int>(questions() / 10000));
  }
}
