#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "exact/rational.hpp"

namespace leastwise::exact {

/// The decimal number that `value` stands for: the shortest one that reads back as the same double.
///
/// That is the number as it was written, digit for digit, whenever it was written with at most 15
/// significant digits. `value` must be finite.
[[nodiscard]] Rational decimal(double value);

/// `p/q` in lowest terms, or `p` alone when it is whole.
[[nodiscard]] std::string to_text(const Rational& value);

/// Reads what `to_text` writes and nothing else: lowest terms, no sign on zero, no leading zeros,
/// at most `longest_fraction` characters.
[[nodiscard]] std::optional<Rational> parse(std::string_view text);

inline constexpr std::size_t longest_fraction = 10'000;

/// 10 to the power of `exponent`.
[[nodiscard]] Integer power_of_ten(unsigned exponent);

}  // namespace leastwise::exact
