#pragma once
#include <stop_token>
#include <string>
#include <string_view>

#include "input/yaml/document.hpp"

namespace leastwise {

/// Whether a text is to be read as JSON: it begins with `{` and, after blanks, a double quote.
[[nodiscard]] bool is_json(std::string_view text);

/// Reads a JSON text as `parse_document` reads YAML: the same tree, each value with its spot. What
/// is not JSON is one problem, where reading ended. Throws: LoadStopped.
[[nodiscard]] Document parse_json_document(const std::string& text, const std::stop_token& stop);

}  // namespace leastwise
