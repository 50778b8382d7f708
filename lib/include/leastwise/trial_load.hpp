#pragma once
#include <leastwise/export.h>
#include <leastwise/load.hpp>
#include <leastwise/trial.hpp>

#include <filesystem>
#include <string_view>

namespace leastwise {

/// Reads a trial file (YAML, format version 1) and the scenarios it names.
///
/// Throws: InputError with all diagnostics, each with file, line and column; LoadStopped, here and
/// below, only when it was asked for.
[[nodiscard]] LEASTWISE_API Trial load_trial(const std::filesystem::path& file,
                                             const LoadOptions& options = {});

/// Reads a trial from text. `name` stands for the file in messages; `folder` is what relative
/// paths in it start from (empty: files may not be named at all).
/// Throws: InputError.
[[nodiscard]] LEASTWISE_API Trial parse_trial(std::string_view text,
                                              std::string_view name = "trial",
                                              const std::filesystem::path& folder = {},
                                              const LoadOptions& options = {});

/// The JSON Schema of the trial format, version 1, for editors.
[[nodiscard]] LEASTWISE_API std::string_view trial_schema();

}  // namespace leastwise
