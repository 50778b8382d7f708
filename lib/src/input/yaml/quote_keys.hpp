#pragma once
#include <string>

#include "input/yaml/scenario_keys.hpp"

namespace leastwise {

/// Reads `quote`: what a quote says beside the recipe.
void read_quote(NodeReader& reader, const Node& node, const std::string& path,
                ScenarioText& scenario);

/// Reads `declare`: how contents are declared.
void read_declare(NodeReader& reader, const Node& node, const std::string& path,
                  ScenarioText& scenario);

}  // namespace leastwise
