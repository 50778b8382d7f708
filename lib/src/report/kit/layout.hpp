#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise::report {

/// Columns `text` takes on a terminal: one per code point.
[[nodiscard]] std::size_t columns_of(std::string_view text);

/// `text` on one line and harmless on a terminal: whatever could steer it becomes a space.
[[nodiscard]] std::string printable(std::string_view text);

/// `text` with its first letter large, where that is a plain Latin one.
[[nodiscard]] std::string capitalised(std::string text);

/// `text` as a sentence: with a full stop unless it ends in a mark of its own.
[[nodiscard]] std::string with_full_stop(std::string text);

/// `text` broken at spaces into lines of at most `width` columns; longer words are broken inside.
/// Always at least one line.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// `text` filled with spaces on the right, or on the left, up to `width` columns.
[[nodiscard]] std::string padded_right(std::string_view text, std::size_t width);
[[nodiscard]] std::string padded_left(std::string_view text, std::size_t width);

}  // namespace leastwise::report
