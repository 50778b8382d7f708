#pragma once
#include <string>
#include <string_view>

namespace leastwise::text {

// A spreadsheet that opens CSV takes a cell such as `=2+3` for a formula and computes it, whoever
// wrote the name that stands there.

/// `cell` with an apostrophe before it where it would be taken for a formula: it begins with `=`,
/// `+`, `-` or `@`, blanks before it or not, and is no number.
[[nodiscard]] std::string spreadsheet_text(std::string_view cell);

/// What `spreadsheet_text` was given.
[[nodiscard]] std::string_view plain_cell(std::string_view written);

}  // namespace leastwise::text
