#include "support/csv.hpp"

#include <fstream>
#include <stdexcept>

namespace leastwise::support {
namespace {

std::vector<std::string> fields_of(const std::string& line) {
  std::vector<std::string> fields(1);
  bool quoted = false;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (c == '"' && quoted && i + 1 < line.size() && line[i + 1] == '"') {
      fields.back() += line[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      fields.emplace_back();
    } else if (c != '\r') {
      fields.back() += c;
    }
  }
  return fields;
}

}  // namespace

std::vector<CsvLine> read_csv(const std::string& path) {
  std::ifstream file(path);
  if (!file) throw std::runtime_error("cannot open " + path);
  std::string line;
  std::getline(file, line);
  const std::vector<std::string> header = fields_of(line);
  std::vector<CsvLine> table;
  while (std::getline(file, line)) {
    if (line.empty()) continue;
    const std::vector<std::string> fields = fields_of(line);
    if (fields.size() != header.size())
      throw std::runtime_error(path + ": wrong number of fields in: " + line);
    CsvLine& row = table.emplace_back();
    for (std::size_t i = 0; i < header.size(); ++i) row[header[i]] = fields[i];
  }
  return table;
}

std::vector<CsvLine> read_reference(std::string_view file) {
  return read_csv(std::string(LEASTWISE_REFERENCE_DIR "/") + std::string(file));
}

}  // namespace leastwise::support
