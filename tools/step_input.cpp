#include "step_input.hpp"

#include <boost/program_options/value_semantic.hpp>
#include <string>

#include "arguments.hpp"

namespace leastwise::cli {
namespace po = boost::program_options;

void add_step_options(po::options_description& options) {
  options.add_options()("step-kg", po::value<std::string>()->value_name("KG"),
                        "the cheapest blend whose portions are whole steps of the balance")(
      "batch-kg", po::value<std::string>()->value_name("KG"),
      "with --step-kg, per-tonne scenarios: what is weighed at once (default 1000)")(
      "batch-hectares", po::value<std::string>()->value_name("HA"),
      "with --step-kg, per-hectare scenarios: the land a batch is for (default 1)");
}

BlendQuestion blend_question_of(const po::variables_map& options) {
  BlendQuestion question;
  question.step_kg = number_given(options, "step-kg");
  question.batch_kg = number_given(options, "batch-kg");
  question.batch_hectares = number_given(options, "batch-hectares");
  if (!question.step_kg && (question.batch_kg || question.batch_hectares))
    throw UsageError("--batch-kg and --batch-hectares need --step-kg");
  return question;
}

}  // namespace leastwise::cli
