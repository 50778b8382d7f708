#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace leastwise::report {

// Numbers as a reader of a page wants them. None depends on the locale, none prints `-0`, and
// thousands are not spaced.

/// An amount of goods or nutrients: three significant digits or more, at least two decimals below
/// 100, so that a powder of 0.8 kg/ha stays 0.800.
[[nodiscard]] std::string amount_text(double amount);

/// A sum of money: two decimals.
[[nodiscard]] std::string money_text(double sum);

/// A price per unit of something: two decimals, more where it is below 1.
[[nodiscard]] std::string price_text(double price);

/// A share in percent: one decimal.
[[nodiscard]] std::string share_text(double percent);

/// A number as its author wrote it: no trailing zeros, at most `digits` significant digits but all
/// those before the point, no exponent.
[[nodiscard]] std::string plain_text(double number, int digits = 6);

/// `number` at five significant digits, never above (or below) itself.
[[nodiscard]] double rounded_down(double number);
[[nodiscard]] double rounded_up(double number);

/// A relative error as an upper bound in words: `1e-9`; smaller ones are stated as 1e-9.
[[nodiscard]] std::string bound_text(double relative_error);

/// `currency`, or `money` where the scenario names none.
[[nodiscard]] std::string_view currency_words(std::string_view currency);

/// `212.40 USD/ha`. `basis` is `ha` or `t`.
[[nodiscard]] std::string cost_text(double cost, std::string_view currency, std::string_view basis);

/// `1 draw`, `2 draws`.
[[nodiscard]] std::string counted(long count, std::string_view what);
[[nodiscard]] inline std::string counted(std::size_t count, std::string_view what) {
  return counted(static_cast<long>(count), what);
}

/// `number` rounded to 12 significant digits, without `-0`; nothing when it is not finite.
[[nodiscard]] std::optional<double> rounded(double number);

}  // namespace leastwise::report
