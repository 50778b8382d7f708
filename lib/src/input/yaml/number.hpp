#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace leastwise {

/// The outcome of reading a number as a person writes it.
struct NumberText {
  std::optional<double> value{};
  std::string advice{};  ///< when there is no value and the fix is certain: `write 1.5`
};

/// Reads a decimal number with an optional exponent: `46`, `-0.5`, `.3`, `1e-3`. Nothing else:
/// no hexadecimal, no infinity, no unit, no percent sign, no decimal comma. A number too close to
/// 0 for a double counts as 0, one too large has no value.
[[nodiscard]] NumberText read_number(std::string_view text);

/// Reads a whole number of at most nine digits.
[[nodiscard]] std::optional<int> read_whole_number(std::string_view text);

}  // namespace leastwise
