#pragma once
#include <leastwise/export.h>
#include <leastwise/quote.hpp>
#include <leastwise/report.hpp>

#include <string>
#include <string_view>

namespace leastwise {

// A quote in each format. `source` is what the scenario is called on the page; it may be empty.

/// As a page of plain text.
[[nodiscard]] LEASTWISE_API std::string to_text(const Quote& quote, std::string_view source,
                                                const TextOptions& options = {});
/// As JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const Quote& quote, std::string_view source);
/// As CSV (RFC 4180, LF): a line for each part of the price, then the sums; money in whole cents,
/// so that the lines add up to each sum.
[[nodiscard]] LEASTWISE_API std::string to_csv(const Quote& quote, std::string_view source);
/// As a page for a browser or a printer. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const Quote& quote, std::string_view source,
                                                Paper paper = Paper::a4);

}  // namespace leastwise
