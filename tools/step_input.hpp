#pragma once
#include <leastwise/rounding.hpp>

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <optional>

#include "exit_code.hpp"

namespace leastwise::cli {

/// Adds `--step-kg`, `--batch-kg` and `--batch-hectares`.
void add_step_options(boost::program_options::options_description& options);

/// What they ask for; nothing without `--step-kg`. Throws: UsageError.
[[nodiscard]] std::optional<RoundingOptions> rounding_of(
    const boost::program_options::variables_map& options);

/// 0 only for a blend on the grid that obeys every rule.
[[nodiscard]] ExitCode exit_code_of(const RoundedBlend& blend);

}  // namespace leastwise::cli
