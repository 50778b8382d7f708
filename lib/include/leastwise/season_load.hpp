#pragma once
#include <leastwise/export.h>
#include <leastwise/load.hpp>
#include <leastwise/season.hpp>

#include <filesystem>
#include <string_view>

namespace leastwise {

/// Reads a season file (YAML, format version 1) and the files it names.
/// Throws: InputError with all diagnostics, each with file, line and column; LoadStopped.
[[nodiscard]] LEASTWISE_API Season load_season(const std::filesystem::path& file,
                                               const LoadOptions& options = {});

/// Reads a season from text. `name` stands for the file in messages; `folder` is what relative
/// paths in it start from (empty: files may not be named at all).
/// Throws: InputError, LoadStopped.
[[nodiscard]] LEASTWISE_API Season parse_season(std::string_view text,
                                                std::string_view name = "season",
                                                const std::filesystem::path& folder = {},
                                                const LoadOptions& options = {});

/// The JSON Schema of the season format, version 1, for editors.
[[nodiscard]] LEASTWISE_API std::string_view season_schema();

}  // namespace leastwise
