#pragma once
#include <leastwise/load.hpp>

#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "input/yaml/inline_scenario.hpp"
#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// Scenarios that stand in another file, inline or by the path of their file: each is read once,
/// and what is wrong is reported once though many parts of the file share it.
class ScenarioNodes {
 public:
  /// `owner` is what the file is, for messages: `trial`. `lines` are its text. All but `owner`
  /// must outlive this.
  ScenarioNodes(NodeReader& reader, const std::vector<std::string>& lines, Reading& reading,
                std::filesystem::path folder, LoadOptions options, std::string_view owner)
      : reader_(reader),
        lines_(lines),
        reading_(reading),
        folder_(std::move(folder)),
        options_(std::move(options)),
        owner_(owner) {}

  /// The scenario at `node`; null where it was rejected.
  [[nodiscard]] const ReadScenario* at(const Node& node, const std::string& path);
  /// Passes diagnostics on, each once.
  void report(const std::vector<Diagnostic>& diagnostics);

  [[nodiscard]] const LoadOptions& options() const { return options_; }

 private:
  NodeReader& reader_;
  const std::vector<std::string>& lines_;
  Reading& reading_;
  std::filesystem::path folder_;
  LoadOptions options_;
  std::string_view owner_;
  std::map<const Node*, std::unique_ptr<ReadScenario>> read_{};
  std::vector<Diagnostic> seen_{};
};

}  // namespace leastwise
