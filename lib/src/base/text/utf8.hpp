#pragma once
#include <cstddef>
#include <string_view>

namespace leastwise::text {

/// Bytes of the UTF-8 character that begins at `i`; 0 when none does.
[[nodiscard]] std::size_t sequence_length(std::string_view text, std::size_t i);

/// Whether all of `text` is UTF-8.
[[nodiscard]] bool is_utf8(std::string_view text);

}  // namespace leastwise::text
