#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "report/answers.hpp"
#include "report/declared_table.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/page.hpp"
#include "report/kit/sections.hpp"
#include "report/quote/quote_lines.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

std::string quote_title(const Quote& quote) {
  const std::string what = quote.blend.title.empty() ? "Blend" : quote.blend.title;
  if (quote.terms.number.empty()) return "Quote: " + what;
  return fmt::format("Quote {}: {}", quote.terms.number, what);
}

/// Whom it is for, of which day and until when: nothing where nothing is stated.
std::string quote_terms_words(const QuoteTerms& terms) {
  std::string words;
  const auto add = [&](std::string_view lead, const std::string& value) {
    if (!value.empty()) words += fmt::format("{}{} {}", words.empty() ? "" : ", ", lead, value);
  };
  add("for", terms.customer);
  add("of", terms.date);
  add("valid until", terms.valid_until);
  return words.empty() ? words : capitalised(words) + ".";
}

std::string_view t_or_tons(const Quote& quote) {
  return quote.units == Units::us ? "short tons" : "t";
}

std::string quote_price_words(const Quote& quote) {
  const std::string& currency = quote.blend.currency;
  const std::string_view t = unit_name(Measure::goods, quote.units);
  const std::string_view ha = unit_name(Measure::land, quote.units);
  std::string words =
      fmt::format("The price is {} {}.", cost_text(quote.per_t.delivered, currency, t),
                  quote.terms.outbound_freight_per_t ? "delivered" : "at the plant");
  if (quote.delivered_per_ha && quote.blend.total_kg_per_ha)
    words += fmt::format(" At {} {} that is {}.", amount_text(*quote.blend.total_kg_per_ha),
                         unit_name(Measure::rate, quote.units),
                         cost_text(*quote.delivered_per_ha, currency, ha));
  if (!quote.order) return words;
  words += fmt::format(" {} {}", plain_text(*quote.tonnes), t_or_tons(quote));
  if (quote.hectares)
    words += fmt::format(" for {} {}", plain_text(*quote.hectares),
                         quote.units == Units::us ? "acres" : "ha");
  if (quote.bags)
    words += fmt::format(" in {} bags of {} {}", *quote.bags, plain_text(quote.terms.bags->kg),
                         unit_name(Measure::mass, quote.units));
  return words +
         fmt::format(" cost {} {}.", cents_text(quote.order->delivered), currency_words(currency));
}

std::string optional_cents(const std::optional<double>& money) {
  return money ? cents_text(*money) : std::string();
}

/// Which columns of a quote stand in a table: a page of text has no room for all of them.
struct QuoteColumns {
  bool per_t = true;
  bool order = true;
};

/// Adds the cells of a line or a sum that `columns` shows behind its name.
std::vector<std::string> quote_row(std::string name, const QuoteColumns& columns,
                                   std::vector<std::string> per_t, std::vector<std::string> order) {
  std::vector<std::string> row{std::move(name)};
  if (columns.per_t) row.insert(row.end(), per_t.begin(), per_t.end());
  if (columns.order) row.insert(row.end(), order.begin(), order.end());
  return row;
}

std::vector<std::string> line_row(const Quote& quote, const QuoteLine& line,
                                  const QuoteColumns& columns) {
  const bool freight = std::ranges::any_of(
      quote.lines, [](const QuoteLine& other) { return other.freight_per_t.value_or(0) != 0; });
  return quote_row(
      line_name(quote, line), columns,
      {optional_cents(line.price_per_t), freight ? optional_cents(line.freight_per_t) : "",
       freight ? optional_cents(line.delivered_per_t) : "",
       line.kg_per_t ? amount_text(*line.kg_per_t) : "", cents_text(line.amount_per_t)},
      {line.kg ? amount_text(*line.kg) : "", optional_cents(line.amount)});
}

Table quote_table(const Quote& quote, const QuoteColumns& columns) {
  Table table;
  const std::string money(currency_words(quote.blend.currency));
  table.add_words("");
  if (columns.per_t)
    for (const std::string& heading :
         {std::string("price"), std::string("freight"), std::string("delivered"),
          std::string(unit_name(Measure::dose, quote.units))})
      table.add_numbers(heading);
  if (columns.per_t) table.add_numbers(price_heading(money, quote.units));
  if (columns.order) table.add_numbers(std::string(unit_name(Measure::mass, quote.units)));
  if (columns.order) table.add_numbers(money);
  const auto subtotals = subtotals_of(quote);
  auto next = subtotals.begin();
  for (std::size_t i = 0; i <= quote.lines.size(); ++i) {
    for (; next != subtotals.end() && next->after == i; ++next)
      table.add_row(quote_row(std::string(next->name), columns,
                              {"", "", "", "", cents_text(next->per_t)},
                              {"", optional_cents(next->order)}));
    if (i < quote.lines.size()) table.add_row(line_row(quote, quote.lines[i], columns));
  }
  return table;
}

void write_price(Page& page, const Quote& quote) {
  page.heading("What the price is made of");
  const bool order = quote.order.has_value();
  page.table(quote_table(quote, {.order = order && page.in_html()}));
  if (!order || page.in_html()) return;
  page.heading(fmt::format("The order of {} {}", plain_text(*quote.tonnes), t_or_tons(quote)));
  page.table(quote_table(quote, {.per_t = false}));
}

std::string quote_basis_words(const Quote& quote, std::string_view source) {
  std::vector<std::string> asked;
  for (const QuoteLimit& limit : quote.asked)
    asked.push_back(rule_in_words(limit.id, limit.limit, limit.unit));
  std::string words = fmt::format("Asked: {}.", fmt::join(asked, ", "));
  if (!source.empty()) words += fmt::format(" Scenario: {}.", source);
  if (!quote.price_list.empty())
    words += fmt::format(" Prices: {}{}{}.", quote.price_list,
                         quote.prices_on.empty() ? "" : " on " + quote.prices_on,
                         quote.plant.empty() ? "" : ", delivered to " + quote.plant);
  return words;
}

}  // namespace

Page page_of(const Quote& quote, std::string_view source, Medium medium) {
  Page page(medium);
  page.title(quote_title(quote));
  if (const auto words = quote_terms_words(quote.terms); !words.empty()) page.paragraph(words);
  page.paragraph(quote_price_words(quote));
  write_price(page, quote);
  write_declared(page, quote.declared);
  page.heading("Basis");
  page.item("  ", quote_basis_words(quote, source));
  page.item("  ", "The recipe is the cheapest that obeys every rule of the scenario, with proof.");
  write_notes(page, quote.blend.notes);
  write_safety(page, quote.blend.portions, quote.blend.supply, quote.blend.notes);
  return page;
}

}  // namespace leastwise::report
