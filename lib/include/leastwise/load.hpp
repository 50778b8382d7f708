#pragma once
#include <leastwise/export.h>
#include <leastwise/load_stopped.hpp>
#include <leastwise/scenario.hpp>

#include <filesystem>
#include <functional>
#include <stop_token>
#include <string>
#include <string_view>

namespace leastwise {

/// What a file that may come from somebody else is allowed to do.
struct LoadOptions {
  /// Whether `catalogue:` and `prices:` may name files outside the scenario's own folder.
  bool allow_outside = false;
  /// The day of which prices are meant, `2026-03-02`, where a price list has days; in place of the
  /// scenario's `prices_on`. Throws: std::invalid_argument, from what reads, when it is no day.
  std::string prices_on{};
  /// The plant to which prices are delivered, where a price list has plants; in place of the
  /// scenario's `plant`.
  std::string plant{};
  /// Ask from another thread to stop; the call then ends with LoadStopped.
  std::stop_token stop{};
  /// Called with each file that is named in what is read, before that file is read: a program may
  /// note what an answer rests on. What it throws ends the call.
  std::function<void(const std::filesystem::path&)> on_named_file{};
};

/// Reads a scenario file (YAML, format version 1) and the files it names.
///
/// Throws: InputError with all diagnostics, each with file, line and column; LoadStopped, here and
/// below, only when it was asked for.
[[nodiscard]] LEASTWISE_API Scenario load_scenario(const std::filesystem::path& file,
                                                   const LoadOptions& options = {});

/// Reads a scenario from text. `name` stands for the file in messages; `folder` is what relative
/// paths in it start from (empty: files may not be named at all).
/// Throws: InputError.
[[nodiscard]] LEASTWISE_API Scenario parse_scenario(std::string_view text,
                                                    std::string_view name = "scenario",
                                                    const std::filesystem::path& folder = {},
                                                    const LoadOptions& options = {});

/// The draft a file states, before it is checked as a whole: for programs that change it first.
/// Throws: InputError for what can be told wrong without the whole (syntax, keys, numbers).
[[nodiscard]] LEASTWISE_API ScenarioDraft load_draft(const std::filesystem::path& file,
                                                     const LoadOptions& options = {});

/// The JSON Schema of the scenario format, version 1, for editors.
[[nodiscard]] LEASTWISE_API std::string_view scenario_schema();

}  // namespace leastwise
