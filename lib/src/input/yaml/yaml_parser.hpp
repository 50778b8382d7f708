#pragma once
#include <stop_token>
#include <string>
#include <vector>

#include "input/yaml/document.hpp"

namespace leastwise {

/// Reads a text that is not JSON, as `parse_document` says. Defined twice: `yaml_parser.cpp` goes
/// into `leastwise::leastwise`, `without_yaml.cpp`, which refuses the text, into `leastwise::core`.
[[nodiscard]] Document parse_yaml_document(const std::string& text,
                                           const std::vector<std::string>& lines,
                                           const std::stop_token& stop);

}  // namespace leastwise
