#pragma once
#include <leastwise/load.hpp>
#include <leastwise/scenario.hpp>

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>
#include <optional>
#include <string>
#include <vector>

#include "long_work.hpp"

namespace leastwise::cli {

/// Adds the options that say how a scenario is read.
void add_scenario_options(boost::program_options::options_description& options);

/// How files are read under the options given: never one that is to be written to. Reading ends
/// when `work` is to. `options` must outlive what is returned.
[[nodiscard]] LoadOptions load_options(const boost::program_options::variables_map& options,
                                       const LongWork& work);

/// What standard input (`-`), a pipe or a device holds; nothing for a file, which the library
/// reads. Throws: ReadingStopped.
[[nodiscard]] std::optional<std::string> streamed(const std::string& file, const LongWork& work);

/// What messages call `file`.
[[nodiscard]] std::string spoken(const std::string& file);

/// Runs `read`, which reads input. Throws: ReadingStopped when the library was told to stop.
template <class Read>
[[nodiscard]] auto read_under(const LongWork& work, Read read) {
  try {
    return read();
  } catch (const LoadStopped&) {
    work.leave_reading();
  }
}

/// Reads the scenario in `file`, or from standard input for `-`, at the prices given as options.
/// Throws: InputError, UsageError, ReadingStopped.
[[nodiscard]] Scenario scenario_of(const std::string& file,
                                   const boost::program_options::variables_map& options,
                                   const LongWork& work);

}  // namespace leastwise::cli
