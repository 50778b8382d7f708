#pragma once
#include <leastwise/load.hpp>

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "input/text_file.hpp"

namespace leastwise {

// Files that a scenario or a trial names: they may come from somebody else, and so may their names.

/// Why a file may not be named.
struct NamedFileFault {
  std::string_view code{};
  std::string message{};
};

/// Whether a file in `folder` (empty: it is no file) may name the file `name` under `options`;
/// nothing when it may. `owner` is what it is: `scenario` or `trial`.
[[nodiscard]] std::optional<NamedFileFault> fault_of_name(const std::filesystem::path& folder,
                                                          const std::string& name,
                                                          std::string_view owner,
                                                          const LoadOptions& options);

/// Tells of the file where `options` ask for that, then reads it; not from a pipe or a device.
[[nodiscard]] TextFile read_named_file(const std::filesystem::path& file,
                                       const LoadOptions& options);

}  // namespace leastwise
