#include <leastwise/load.hpp>
#include <leastwise/verify.hpp>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>

#include "carrier_and_filler.hpp"
#include "exact/fingerprint.hpp"

// A proof put together from lines, past what its text must look like: whatever it says, it proves
// no other cost than the right one, and never that there is no blend.
//
// A line is a letter and what the letter stands for: c claim, s cost, p portion (`p filler=750`),
// k a new case, d decision (`d material=out`), m multiplier (`m grade N min=7/8`), t settled by,
// b bound.

namespace {

using leastwise::Proof;

std::pair<std::string, std::string> halves(std::string_view text) {
  const auto at = text.find('=');
  if (at == std::string_view::npos) return {std::string(text), {}};
  return {std::string(text.substr(0, at)), std::string(text.substr(at + 1))};
}

void add_line(Proof& proof, char letter, std::string_view rest) {
  if (letter == 'c') proof.claim = rest;
  if (letter == 's') proof.cost = rest;
  if (letter == 'k') proof.cases.emplace_back();
  const auto [name, value] = halves(rest);
  if (letter == 'p') proof.portions.push_back({name, value});
  if (proof.cases.empty()) return;
  auto& last = proof.cases.back();
  if (letter == 'd') last.decisions.push_back({name, value});
  if (letter == 'm') last.multipliers.push_back({name, value});
  if (letter == 't') last.settled_by = rest;
  if (letter == 'b') last.bound = rest;
}

Proof proof_of(std::string_view text, const leastwise::Scenario& scenario) {
  Proof proof;
  proof.claim = "optimal";
  proof.scenario = leastwise::exact::fingerprint(scenario);
  proof.basis = "per tonne";
  while (!text.empty()) {
    const auto line = text.substr(0, text.find('\n'));
    text.remove_prefix(std::min(text.size(), line.size() + 1));
    if (line.size() >= 2) add_line(proof, line[0], line.substr(2));
  }
  return proof;
}

double number_of(const std::string& fraction) {
  const auto slash = fraction.find('/');
  const double above = std::strtod(fraction.c_str(), nullptr);
  return slash == std::string::npos ? above
                                    : above / std::strtod(fraction.c_str() + slash + 1, nullptr);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const auto scenario = leastwise::parse_scenario(leastwise::fuzz::carrier_and_filler);
  const auto proof =
      proof_of(std::string_view(reinterpret_cast<const char*>(data), size), scenario);
  const auto found = leastwise::verify(proof, scenario);
  if (found.verdict == leastwise::ProofVerdict::proved_infeasible) std::abort();
  if (found.verdict == leastwise::ProofVerdict::not_proved) {
    if (found.detail.empty()) std::abort();
  } else if (std::fabs(number_of(proof.cost) - leastwise::fuzz::least_cost) > 1e-6) {
    std::abort();
  }
  return 0;
}
