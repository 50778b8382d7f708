#include "report/quote/quote_lines.hpp"

#include <fmt/format.h>

#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

std::string margin_name(const QuoteTerms& terms) {
  if (terms.margin_percent)
    return fmt::format("margin, {} % of the price", plain_text(*terms.margin_percent));
  if (terms.markup_percent)
    return fmt::format("margin, {} % of the cost", plain_text(*terms.markup_percent));
  return "margin";
}

}  // namespace

std::string line_name(const Quote& quote, const QuoteLine& line) {
  switch (line.kind) {
    case QuoteLineKind::material:
      return line.name + (line.supplier.empty() ? "" : ", " + line.supplier) +
             (line.form == Form::powder ? " (powder coating)" : "");
    case QuoteLineKind::binder:
      return line.name.empty() ? "(binder, unnamed)" : line.name + " (binder)";
    case QuoteLineKind::blending:
      return "blending fee";
    case QuoteLineKind::overhead:
      return "overhead";
    case QuoteLineKind::bags:
      return fmt::format("bags of {} {}", plain_text(quote.terms.bags ? quote.terms.bags->kg : 0),
                         unit_name(Measure::mass, quote.units));
    case QuoteLineKind::margin:
      return margin_name(quote.terms);
    case QuoteLineKind::rounding:
      return "rounding";
    case QuoteLineKind::outbound_freight:
      return "freight to the customer";
  }
  return {};
}

std::vector<QuoteSubtotal> subtotals_of(const Quote& quote) {
  std::vector<QuoteSubtotal> subtotals;
  const auto order = [&](double QuoteSums::*sum) {
    return quote.order ? std::optional((*quote.order).*sum) : std::nullopt;
  };
  std::size_t costs = 0;
  while (costs < quote.lines.size() && quote.lines[costs].kind < QuoteLineKind::margin) ++costs;
  const bool freight =
      !quote.lines.empty() && quote.lines.back().kind == QuoteLineKind::outbound_freight;
  const std::size_t at_plant = quote.lines.size() - (freight ? 1 : 0);
  if (at_plant > costs)
    subtotals.push_back({costs, "cost", quote.per_t.cost, order(&QuoteSums::cost)});
  if (freight)
    subtotals.push_back(
        {at_plant, "price at the plant", quote.per_t.at_plant, order(&QuoteSums::at_plant)});
  subtotals.push_back({quote.lines.size(), freight ? "price delivered" : "price at the plant",
                       quote.per_t.delivered, order(&QuoteSums::delivered)});
  return subtotals;
}

std::string cents_text(double money) { return fmt::format("{:.2f}", money + 0.0); }

}  // namespace leastwise::report
