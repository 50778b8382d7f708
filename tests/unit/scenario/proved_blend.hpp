#pragma once
#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

/// The blend of a draft, after a proof of it was checked.
inline leastwise::Blend proved_blend(const leastwise::ScenarioDraft& draft) {
  using namespace leastwise;
  const Scenario scenario(draft);
  const auto proven = formulate_with_proof(scenario);
  REQUIRE(proven.answer.blend() != nullptr);
  REQUIRE(proven.proof);
  CHECK(verify(*proven.proof, scenario).verdict == ProofVerdict::proved_optimal);
  return *proven.answer.blend();
}
