#include "text/spreadsheet.hpp"

#include <charconv>
#include <system_error>

namespace leastwise::text {
namespace {

bool is_number(std::string_view cell) {
  double value = 0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  return error == std::errc() && end == cell.data() + cell.size();
}

/// Whether it is taken for a formula, or for one that has its apostrophe already.
bool needs_apostrophe(std::string_view cell) {
  const std::size_t first = cell.find_first_not_of(" \t\r\n'");
  if (first == std::string_view::npos) return false;
  return std::string_view("=+-@").find(cell[first]) != std::string_view::npos && !is_number(cell);
}

}  // namespace

std::string spreadsheet_text(std::string_view cell) {
  return needs_apostrophe(cell) ? "'" + std::string(cell) : std::string(cell);
}

std::string_view plain_cell(std::string_view written) {
  const bool marked = !written.empty() && written.front() == '\'';
  if (marked && needs_apostrophe(written.substr(1))) written.remove_prefix(1);
  return written;
}

}  // namespace leastwise::text
