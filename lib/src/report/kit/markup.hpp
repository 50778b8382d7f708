#pragma once
#include <string>
#include <string_view>

namespace leastwise::report {

/// `text` for HTML or SVG: markup signs and quotes replaced, control characters as spaces, and
/// bytes that are no UTF-8 as replacement characters.
[[nodiscard]] std::string escaped(std::string_view text);

}  // namespace leastwise::report
