#pragma once
#include <leastwise/export.h>
#include <leastwise/outcome.hpp>

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What the program that calls `run` decides, never the text it hands on.
struct RunOptions {
  /// What relative paths in a scenario start from. Empty: a scenario may not name files at all.
  std::filesystem::path folder{};
  bool allow_outside = false;     ///< whether it may name files outside `folder`
  std::string name = "scenario";  ///< what stands for the scenario in messages
  SolveOptions limits{};          ///< for the whole call, reading included
};

/// One question as text, one answer as JSON: what the tool's command of that name prints with
/// `--format json`.
///
/// `command` is one of `run_commands()`. `scenario` is a scenario, for `batch` and `plan` a trial,
/// for `season` a season, as YAML or JSON; `materials` takes an empty one for the built-in
/// materials. `options` is a JSON object or YAML mapping with the options of the command, or empty;
/// the guide lists them. Returns: always a report, ending in a newline. What is wrong with the
/// input, a command or an option that is not known included, is a report of the kind `rejected`; a
/// call that was stopped while it read is one of the kind `unread`. Throws: std::bad_alloc and what
/// `limits.progress` throws, nothing else. Thread safety: safe on any threads at once.
/// Deterministic: as `formulate`.
[[nodiscard]] LEASTWISE_API std::string run(std::string_view command, std::string_view scenario,
                                            std::string_view options = {},
                                            const RunOptions& how = {});

/// `blend`, `quote`, `check`, `compare`, `prices`, `risk`, `alternatives`, `batch`, `plan`,
/// `season`, `materials`, `verify`.
[[nodiscard]] LEASTWISE_API std::vector<std::string> run_commands();

}  // namespace leastwise
