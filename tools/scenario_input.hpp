#pragma once
#include <leastwise/load.hpp>
#include <leastwise/scenario.hpp>

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <chrono>
#include <optional>
#include <stop_token>
#include <string>

namespace leastwise::cli {

/// Adds the options that say how a scenario is read.
void add_scenario_options(boost::program_options::options_description& options);

/// How files are read under the options given: never one that is to be written to.
/// `options` must outlive what is returned.
[[nodiscard]] LoadOptions load_options(const boost::program_options::variables_map& options,
                                       std::stop_token stop = {});

/// Reads the scenario in `file`, or from standard input for `-`, at the prices given as options.
/// Throws: InputError, UsageError; LoadStopped when reading took longer than `limit`.
[[nodiscard]] Scenario scenario_of(
    const std::string& file, const boost::program_options::variables_map& options,
    std::optional<std::chrono::duration<double>> limit = std::nullopt);

}  // namespace leastwise::cli
