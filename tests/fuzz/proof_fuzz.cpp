#include <leastwise/diagnostic.hpp>
#include <leastwise/load.hpp>
#include <leastwise/verify.hpp>

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "carrier_and_filler.hpp"

// Any text is a proof or is refused with a diagnostic; what is read can be written and read again.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const auto scenario = leastwise::parse_scenario(leastwise::fuzz::carrier_and_filler);
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  try {
    const auto proof = leastwise::parse_proof(text);
    if (leastwise::to_json(leastwise::parse_proof(leastwise::to_json(proof))) !=
        leastwise::to_json(proof))
      std::abort();
    const auto found = leastwise::verify(proof, scenario);
    if (found.verdict == leastwise::ProofVerdict::proved_infeasible) std::abort();
    if (found.verdict == leastwise::ProofVerdict::not_proved && found.detail.empty()) std::abort();
  } catch (const leastwise::InputError& error) {
    if (error.diagnostics().empty()) std::abort();
  }
  return 0;
}
