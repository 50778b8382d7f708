#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/quote/quote_lines.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

std::string quote_cents(const std::optional<double>& money) {
  return money ? cents_text(*money) : std::string();
}

std::string quote_sum(std::string_view name, double per_t, const std::optional<double>& order) {
  return csv_line(
      {"sum", std::string(name), "", "", "", "", "", cents_text(per_t), "", quote_cents(order)});
}

/// What is said about the quote as a whole, a line each.
std::string quote_facts(const Quote& quote, std::string_view source) {
  std::string csv;
  const auto fact = [&](std::string name, std::string value) {
    if (!value.empty())
      csv += csv_line({"about", std::move(name), std::move(value), "", "", "", "", "", "", ""});
  };
  fact("title", quote.blend.title);
  fact("number", quote.terms.number);
  fact("customer", quote.terms.customer);
  fact("date", quote.terms.date);
  fact("valid_until", quote.terms.valid_until);
  fact("currency", quote.blend.currency);
  fact(csv_header("tonnes", quote.units), csv_number(quote.tonnes));
  fact("bags", quote.bags ? std::to_string(*quote.bags) : "");
  fact("scenario", std::string(source));
  fact("prices", quote.price_list);
  fact("prices_on", quote.prices_on);
  fact("plant", quote.plant);
  for (const QuoteLimit& limit : quote.asked)
    fact("asked", rule_in_words(limit.id, limit.limit, limit.unit));
  for (const DeclaredContent& line : quote.declared.contents)
    if (!line.below_minimum) fact("declare " + line.nutrient, plain_text(line.declared_percent));
  for (const Note& note : quote.blend.notes) fact(std::string(to_string(note.level)), note.text);
  return csv;
}

}  // namespace

std::string csv_of(const Quote& quote, std::string_view source) {
  std::string csv = csv_header(
      "what,name,value,price_per_t,freight_per_t,delivered_per_t,kg_per_t,amount_per_t,kg,amount\n",
      quote.units);
  for (const QuoteLine& line : quote.lines)
    csv += csv_line({std::string(to_string(line.kind)), line_name(quote, line), "",
                     csv_number(line.price_per_t), csv_number(line.freight_per_t),
                     csv_number(line.delivered_per_t), csv_number(line.kg_per_t),
                     cents_text(line.amount_per_t), csv_number(line.kg), quote_cents(line.amount)});
  const auto sum = [&](std::string_view name, double QuoteSums::*field) {
    csv += quote_sum(name, quote.per_t.*field,
                     quote.order ? std::optional((*quote.order).*field) : std::nullopt);
  };
  sum("materials", &QuoteSums::materials);
  sum("cost", &QuoteSums::cost);
  sum("at_plant", &QuoteSums::at_plant);
  sum("delivered", &QuoteSums::delivered);
  return csv + quote_facts(quote, source);
}

}  // namespace leastwise::report
