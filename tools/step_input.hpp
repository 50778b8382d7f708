#pragma once
#include <leastwise/question.hpp>

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

namespace leastwise::cli {

/// Adds `--step-kg` and what goes with it.
void add_step_options(boost::program_options::options_description& options);

/// Reads them. Throws: UsageError.
[[nodiscard]] BlendQuestion blend_question_of(const boost::program_options::variables_map& options);

}  // namespace leastwise::cli
