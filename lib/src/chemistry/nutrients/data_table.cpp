#include "chemistry/nutrients/data_table.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <system_error>
#include <utility>

namespace leastwise {

std::optional<double> parse_number(std::string_view text) {
  double value = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  if (text.empty() || error != std::errc{} || stop != end || !std::isfinite(value)) return {};
  return value;
}

Table::Table(std::string_view file_name, std::string_view text) : file_name_(file_name) {
  CsvText parsed = parse_csv(text);
  if (!parsed.problems.empty()) {
    const CsvProblem& problem = parsed.problems.front();
    throw std::logic_error(file_name_ + ":" + std::to_string(problem.line) + ": " +
                           problem.message);
  }
  if (parsed.rows.empty()) throw std::logic_error(file_name_ + ": no header");
  for (CsvField& field : parsed.rows.front().fields) columns_.push_back(std::move(field.text));
  rows_.assign(std::make_move_iterator(parsed.rows.begin() + 1),
               std::make_move_iterator(parsed.rows.end()));
  for (const CsvRow& row : rows_) {
    if (row.fields.size() == columns_.size()) continue;
    throw std::logic_error(file_name_ + ":" + std::to_string(row.line) + ": " +
                           std::to_string(row.fields.size()) + " fields for " +
                           std::to_string(columns_.size()) + " columns");
  }
}

const CsvField& Table::field(std::size_t row, std::string_view column) const {
  const auto found = std::ranges::find(columns_, column);
  if (found == columns_.end()) {
    throw std::logic_error(file_name_ + ": no column " + std::string(column));
  }
  return rows_.at(row).fields[static_cast<std::size_t>(found - columns_.begin())];
}

const std::string& Table::text(std::size_t row, std::string_view column) const {
  return field(row, column).text;
}

double Table::number(std::size_t row, std::string_view column) const {
  const std::optional<double> value = parse_number(text(row, column));
  if (!value) reject(row, column, "is not a number");
  return *value;
}

std::optional<double> Table::optional_number(std::size_t row, std::string_view column) const {
  if (text(row, column).empty()) return {};
  return number(row, column);
}

bool Table::flag(std::size_t row, std::string_view column) const {
  const std::string& word = text(row, column);
  if (word != "yes" && word != "no") reject(row, column, "is neither yes nor no");
  return word == "yes";
}

std::string Table::source(std::size_t row) const {
  const std::string& source = text(row, "source");
  const std::string& status = text(row, "status");
  if (source.empty()) reject(row, "source", "is empty");
  if (status != "seen" && status != "computed" && status != "common practice" &&
      status != "from memory") {
    reject(row, "status", "is none of seen, computed, common practice, from memory");
  }
  const bool says_so = source.find("from memory") != std::string::npos;
  if (status == "common practice") return source + " (common practice)";
  return status == "from memory" && !says_so ? source + " (from memory)" : source;
}

void Table::reject(std::size_t row, std::string_view column, std::string_view why) const {
  throw std::logic_error(file_name_ + ":" + std::to_string(rows_.at(row).line) + ": " +
                         std::string(column) + " '" + text(row, column) + "' " + std::string(why));
}

}  // namespace leastwise
