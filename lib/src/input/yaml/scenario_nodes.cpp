#include "input/yaml/scenario_nodes.hpp"

#include <algorithm>
#include <utility>

#include "base/text/wording.hpp"
#include "input/named_file.hpp"

namespace leastwise {

void ScenarioNodes::report(const std::vector<Diagnostic>& diagnostics) {
  for (const auto& diagnostic : diagnostics) {
    const auto same = [&](const Diagnostic& other) {
      return other.code == diagnostic.code && other.place == diagnostic.place &&
             other.message == diagnostic.message;
    };
    if (std::any_of(seen_.begin(), seen_.end(), same)) continue;
    seen_.push_back(diagnostic);
    reading_.diagnostics.push_back(diagnostic);
  }
}

const ReadScenario* ScenarioNodes::at(const Node& node, const std::string& path) {
  const auto known = read_.find(&node);
  if (known != read_.end()) return known->second.get();
  auto& kept = read_[&node];
  if (node.kind == Node::Kind::mapping) {
    kept = std::make_unique<ReadScenario>(
        read_inline_scenario(reader_.name(), lines_, node, folder_, options_));
  } else {
    const auto name = reader_.text(node, path);
    if (!name) return nullptr;
    const auto complain = [&](std::string_view code, const std::string& message) {
      reader_.error(code, path, node.spot, message);
      return nullptr;
    };
    if (const auto fault = fault_of_name(folder_, *name, owner_, options_))
      return complain(fault->code, fault->message);
    const auto file = (folder_ / *name).lexically_normal();
    TextFile read = read_named_file(file, options_);
    if (!read.good() && read.line == 0)
      return complain(read.code, "the file " + in_quotes(*name) + " " + read.problem);
    kept = std::make_unique<ReadScenario>(read_scenario_file(file, std::move(read), options_));
  }
  if (!kept->reading.diagnostics.empty()) {
    report(kept->reading.diagnostics);
    kept.reset();
  }
  return kept.get();
}

}  // namespace leastwise
