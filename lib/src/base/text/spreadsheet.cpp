#include "base/text/spreadsheet.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <span>
#include <system_error>

namespace leastwise::text {
namespace {

bool is_number(std::string_view cell) {
  double value = 0;
  const auto [end, error] = std::from_chars(cell.data(), cell.data() + cell.size(), value);
  return error == std::errc() && end == cell.data() + cell.size();
}

/// What a spreadsheet may pass over before it looks for a formula: blanks, also those that show
/// nothing, and an apostrophe.
constexpr std::array<std::string_view, 15> passed_over{
    " ",      "\t",     "\r",     "\n",     "'",      "\u00A0", "\u00AD", "\u200B",
    "\u200C", "\u200D", "\u2060", "\u3000", "\uFEFF", "\u202F", "\u2007"};
/// What a formula begins with; some spreadsheets take the full-width forms too.
constexpr std::array<std::string_view, 8> signs{"=",      "+",      "-",      "@",
                                                "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};

/// The one of `list` that `text` begins with; nothing when there is none.
std::string_view begin_of(std::string_view text, std::span<const std::string_view> list) {
  const auto found =
      std::ranges::find_if(list, [text](std::string_view one) { return text.starts_with(one); });
  return found == list.end() ? std::string_view() : *found;
}

/// Whether it is taken for a formula, or for one that has its apostrophe already.
bool needs_apostrophe(std::string_view cell) {
  std::string_view rest = cell;
  while (!begin_of(rest, passed_over).empty())
    rest.remove_prefix(begin_of(rest, passed_over).size());
  return !begin_of(rest, signs).empty() && !is_number(cell);
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
