#include <leastwise/render.hpp>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "long_work.hpp"
#include "output.hpp"
#include "scenario_input.hpp"
#include "time_limit.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis verify_synopsis{
    .command = "verify",
    .operands = "PROOF SCENARIO",
    .about =
        "Checks the proof that 'blend --proof' wrote against the scenario, in exact\n"
        "fractions and by rules rebuilt from the scenario. Exit code: 0 the blend is\n"
        "proved, 1 not proved or input rejected, 2 proved that no blend obeys every rule,\n"
        "3 stopped before everything was checked.\n",
    .examples =
        "  leastwise blend --proof field.proof.json field.yaml\n"
        "  leastwise verify field.proof.json field.yaml\n",
    .file_required = true,
    .many_files = true};

ExitCode exit_code_of(ProofVerdict verdict) {
  switch (verdict) {
    case ProofVerdict::proved_optimal:
    case ProofVerdict::proved_within_1e_9:
      return blend_found;
    case ProofVerdict::proved_infeasible:
      return infeasible;
    case ProofVerdict::stopped:
      return stopped;
    case ProofVerdict::not_proved:
      break;
  }
  return input_rejected;
}

Proof proof_of(const std::string& file, const po::variables_map& options, const LongWork& work) {
  keep_input(file, options);
  const auto text = streamed(file, work);
  return read_under(work, [&] {
    return text ? parse_proof(*text, spoken(file), work.reading())
                : load_proof(file, work.reading());
  });
}

int run_verify(const Arguments& arguments) {
  po::options_description options;
  add_output_options(options, without_pictures);
  add_time_limit(options);
  add_scenario_options(options);
  const Parsed given = parsed(arguments, verify_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(verify_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options, without_pictures);
  if (given.files.size() != 2) throw UsageError("verify expects a PROOF and a SCENARIO");
  LongWork work(given.options);
  const Proof proof = proof_of(given.files[0], given.options, work);
  const Scenario scenario = scenario_of(given.files[1], given.options, work);
  const auto verification = verify(proof, scenario, work.limits());
  work.end();
  output.write(report_of(verification, output));
  return exit_code_of(verification.verdict);
}

}  // namespace

extern const Command verify_command;
const Command verify_command{"verify", "check the proof of a blend in exact arithmetic",
                             run_verify};

}  // namespace leastwise::cli
