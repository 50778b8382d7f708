#pragma once
#include <map>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::support {

/// One line of a table, by column name.
using CsvLine = std::map<std::string, std::string, std::less<>>;

/// Reads a comma-separated table with a header line; fields may be quoted. Throws
/// std::runtime_error when the file cannot be opened or a line has the wrong number of fields.
[[nodiscard]] std::vector<CsvLine> read_csv(const std::string& path);

/// A file under tests/reference/data.
[[nodiscard]] std::vector<CsvLine> read_reference(std::string_view file);

}  // namespace leastwise::support
