#pragma once
#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <chrono>
#include <optional>

namespace leastwise::cli {

using Seconds = std::chrono::duration<double>;

/// Adds `--time-limit`.
void add_time_limit(boost::program_options::options_description& options);
/// Adds it for a command that has nothing to show before its end.
void add_reading_limit(boost::program_options::options_description& options);
/// Reads it; nothing where the command has no such option. Throws: UsageError.
[[nodiscard]] std::optional<Seconds> time_limit_of(
    const boost::program_options::variables_map& options);

}  // namespace leastwise::cli
