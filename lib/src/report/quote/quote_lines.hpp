#pragma once
#include <leastwise/quote.hpp>

#include <string>
#include <string_view>
#include <vector>

namespace leastwise::report {

/// A sum that stands below some lines of a quote.
struct QuoteSubtotal {
  std::size_t after = 0;  ///< how many lines stand above it
  std::string_view name{};
  double per_t = 0;
  std::optional<double> order{};
};

/// What a line is called on the page: the material, `margin, 8 % of the price`.
[[nodiscard]] std::string line_name(const Quote& quote, const QuoteLine& line);

/// `cost`, `price at the plant` and `price delivered`, each where it differs from the one before.
[[nodiscard]] std::vector<QuoteSubtotal> subtotals_of(const Quote& quote);

/// A sum of money in whole cents.
[[nodiscard]] std::string cents_text(double money);

}  // namespace leastwise::report
