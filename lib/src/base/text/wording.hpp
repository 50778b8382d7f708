#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// `text` in single quotes, control characters made visible, cut after 60 characters.
[[nodiscard]] std::string in_quotes(std::string_view text);

/// The shortest decimal text that reads back as `value`: `46`, `0.3`, `1e+20`.
[[nodiscard]] std::string number_text(double value);

/// `value` to six significant digits, for results of arithmetic: `22.9133`.
[[nodiscard]] std::string rounded_text(double value);

/// `'a'`, `'a' and 'b'`, `'a', 'b' and 'c'`; beyond `most` names: `'a', 'b' and 5 more`.
[[nodiscard]] std::string listed(const std::vector<std::string>& names, std::size_t most = 6);

/// How many code points a UTF-8 text has.
[[nodiscard]] std::size_t code_points(std::string_view text);

/// The first `count` code points of a UTF-8 text.
[[nodiscard]] std::string_view first_code_points(std::string_view text, std::size_t count);

/// `text` with a space for each control character, tabs too, and each override of the direction of
/// writing, so that one column of the source stays one column on the screen.
[[nodiscard]] std::string printable(std::string_view text);

}  // namespace leastwise
