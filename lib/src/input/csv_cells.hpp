#pragma once
#include <algorithm>
#include <string>

#include "base/text/csv.hpp"
#include "input/yaml/node_reader.hpp"

namespace leastwise {

// A cell of a price list, a price history or a list of weighed masses.

[[nodiscard]] inline SourceSpan spot_of(const CsvField& field) {
  return {field.line, field.column, std::max(field.width, 1)};
}

/// What stands in it without the blanks around; what is quoted stays as it is.
[[nodiscard]] inline std::string trimmed(const CsvField& field) {
  if (field.quoted) return field.text;
  const auto first = field.text.find_first_not_of(" \t");
  if (first == std::string::npos) return {};
  return field.text.substr(first, field.text.find_last_not_of(" \t") - first + 1);
}

}  // namespace leastwise
