#include <leastwise/prove.hpp>
#include <leastwise/report.hpp>

#include <boost/program_options/value_semantic.hpp>

#include <filesystem>

#include "arguments.hpp"
#include "exit_code.hpp"
#include "landscape_input.hpp"
#include "long_work.hpp"
#include "output.hpp"
#include "scenario_input.hpp"
#include "step_input.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;
namespace {

constexpr Synopsis blend_synopsis{
    "blend", "FILE",
    "Finds the cheapest blend that obeys every rule of the scenario in FILE ('-':\n"
    "standard input). Exit code: 0 blend found, 1 input rejected, 2 no blend obeys\n"
    "every rule, 3 stopped before a proof, or without the one that --proof asks for,\n"
    "64 wrong usage, 74 report not written.\n",
    "  leastwise blend field.yaml\n"
    "  leastwise blend --format json --output field.json field.yaml\n"
    "  leastwise blend --price urea=520 --price map=700 field.yaml\n"
    "  leastwise blend --format html --output field.html field.yaml\n"
    "  leastwise blend --step-kg 0.5 field.yaml\n"
    "  leastwise blend --why sop field.yaml\n"
    "  leastwise blend --proof field.proof.json field.yaml\n",
    true};

po::options_description blend_options() {
  po::options_description options;
  add_output_options(options);
  options.add_options()("time-limit", po::value<std::string>()->value_name("SECONDS"),
                        "stop after so long with the best blend so far, exit code 3");
  options.add_options()("proof", po::value<std::string>()->value_name("PATH"),
                        "also write a proof in exact arithmetic, for 'leastwise verify'");
  add_table_option(options);
  options.add_options()("why",
                        po::value<std::vector<std::string>>()->composing()->value_name("MATERIAL"),
                        "say why the blend takes none, or no more, of it; may be given many times");
  add_step_options(options);
  add_scenario_options(options);
  return options;
}

/// Says that there is no proof, and that an older one in its place is not of this run.
void complain_of_no_proof(const std::string& path, const std::string& why) {
  std::error_code error;
  complain("leastwise: no proof was written: " + why + "\n");
  if (std::filesystem::is_regular_file(path, error))
    complain("leastwise: '" + path + "' is older and does not belong to this report\n");
}

/// Answers with a proof: writes it to `path` and the report to `output`.
int run_with_proof(const Scenario& scenario, const std::string& path, const Output& output,
                   LongWork& work, std::optional<BlendTable> table) {
  const ProvenFormulation proven = formulate_with_proof(scenario, work.limits());
  work.end();
  if (proven.proof)
    Output{.path = path}.write(to_json(*proven.proof));
  else
    complain_of_no_proof(path, proven.why_no_proof);
  output.write(report_of(Answer(proven.answer), output, table));
  return proven.proof ? code_for(proven.answer.status()) : stopped;
}

int run_blend(const Arguments& arguments) {
  const po::options_description options = blend_options();
  const Parsed given = parsed(arguments, blend_synopsis, options);
  if (given.help_asked) {
    Output{}.write(help_page(blend_synopsis, options));
    return blend_found;
  }
  const Output output = output_of(given.options);
  const bool proof_asked = given.options.count("proof") > 0;
  if (proof_asked && given.options["proof"].as<std::string>() == "-")
    throw UsageError("--proof expects the path of a file, for the report goes to standard output");
  if (proof_asked && output.path &&
      are_one_file(*output.path, given.options["proof"].as<std::string>()))
    throw UsageError("--proof and --output name the same file");
  BlendQuestion question = blend_question_of(given.options);
  if (given.options.count("why") > 0)
    question.why = given.options["why"].as<std::vector<std::string>>();
  if (proof_asked && !question.why.empty())
    throw UsageError("--why speaks of the blend alone; ask without --proof");
  if (question.step_kg && proof_asked)
    throw UsageError("--proof proves the exact blend, not one in steps");
  const auto table = table_of(given.options, output);
  if (table && question.step_kg) throw UsageError("--table is for the exact blend, not --step-kg");
  LongWork work(given.options);
  const Scenario scenario = scenario_of(*given.file, given.options, work);
  if (proof_asked)
    return run_with_proof(scenario, given.options["proof"].as<std::string>(), output, work, table);
  return answered(scenario, question, output, work, table);
}

}  // namespace

extern const Command blend_command;
const Command blend_command{"blend", "find the cheapest blend that obeys every rule", run_blend};

}  // namespace leastwise::cli
