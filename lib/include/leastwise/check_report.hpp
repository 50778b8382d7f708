#pragma once
#include <leastwise/report.hpp>
#include <leastwise/scenario.hpp>

#include <string>
#include <string_view>

namespace leastwise {

// A scenario that nothing is wrong with, in brief: what it holds, and the notes it asks for. `name`
// stands for its file.

/// One line, then a line for each note.
[[nodiscard]] LEASTWISE_API std::string check_to_text(const Scenario& scenario,
                                                      std::string_view name);
/// As JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string check_to_json(const Scenario& scenario,
                                                      std::string_view name);
/// As CSV (RFC 4180, LF): two columns, what and value; each note is a line `caution`, `warning` or
/// `info`.
[[nodiscard]] LEASTWISE_API std::string check_to_csv(const Scenario& scenario,
                                                     std::string_view name);
/// As a page for a browser or a printer. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string check_to_html(const Scenario& scenario,
                                                      std::string_view name,
                                                      Paper paper = Paper::a4);

}  // namespace leastwise
