#include <leastwise/prove.hpp>
#include <leastwise/verify.hpp>

#include <memory>
#include <utility>

#include "c/call_options.hpp"
#include "c/guard.hpp"
#include "c/handles.hpp"

using namespace leastwise::c;

leastwise_result leastwise_formulate_with_proof(const leastwise_scenario* scenario,
                                                const leastwise_options* options,
                                                leastwise_answer** answer, char** proof,
                                                leastwise_error** error) {
  return guarded(error, [&] {
    auto& out = cleared(answer);
    auto& proof_out = cleared(proof);
    auto proven = leastwise::formulate_with_proof(required(scenario, "scenario").value,
                                                  call_options(options));
    auto handle = std::make_unique<leastwise_answer>(leastwise_answer{std::move(proven.answer)});
    if (proven.proof) proof_out = given_away(leastwise::to_json(*proven.proof));
    out = handle.release();
  });
}

leastwise_result leastwise_verify(const char* proof, size_t length,
                                  const leastwise_scenario* scenario, leastwise_verdict* verdict,
                                  char** detail, leastwise_error** error) {
  return guarded(error, [&] {
    if (detail != nullptr) *detail = nullptr;
    auto& out = required(verdict, "place for the verdict");
    out = LEASTWISE_NOT_PROVED;
    const std::string_view whole(&required(proof, "proof"), length);
    const leastwise::Verification found =
        leastwise::verify(leastwise::parse_proof(whole), required(scenario, "scenario").value);
    if (detail != nullptr) *detail = given_away(found.detail);
    out = static_cast<leastwise_verdict>(found.verdict);
  });
}
