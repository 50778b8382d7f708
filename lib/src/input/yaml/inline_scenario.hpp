#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/load.hpp>

#include <filesystem>
#include <string>
#include <vector>

#include "input/text_file.hpp"
#include "input/yaml/document.hpp"
#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// What a scenario says that was read, and what was found wrong with its text.
struct ReadScenario {
  ScenarioDraft draft{};
  Reading reading{};
};

/// Reads a scenario that stands inside another file: `name` is that file's, `lines` are its text.
/// The scenario need not state the format version again.
[[nodiscard]] ReadScenario read_inline_scenario(const std::string& name,
                                                std::vector<std::string> lines, Node root,
                                                const std::filesystem::path& folder,
                                                const LoadOptions& options);

/// Reads the scenario in `file`, which holds `text`, and leaves what is wrong with it to the
/// caller.
[[nodiscard]] ReadScenario read_scenario_file(const std::filesystem::path& file, TextFile text,
                                              const LoadOptions& options);

}  // namespace leastwise
