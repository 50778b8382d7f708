#pragma once
#include <leastwise/report.hpp>
#include <leastwise/verify.hpp>

#include <string>

namespace leastwise {

/// The verdict and what is wrong, on one line.
[[nodiscard]] LEASTWISE_API std::string to_text(const Verification& verification);
/// The verdict as JSON, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const Verification& verification);
/// The verdict as CSV (RFC 4180, LF): a header line and one more.
[[nodiscard]] LEASTWISE_API std::string to_csv(const Verification& verification);
/// The verdict as a page for a browser or a printer. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const Verification& verification,
                                                Paper paper = Paper::a4);

}  // namespace leastwise
