#pragma once
#include <string>
#include <string_view>

namespace leastwise::text {

/// `text` with a space for each control character, tabs too, and each override of the direction of
/// writing, and a mark for each byte that is no UTF-8: what was one column on a screen stays one.
[[nodiscard]] std::string sanitize_for_terminal(std::string_view text);

}  // namespace leastwise::text
