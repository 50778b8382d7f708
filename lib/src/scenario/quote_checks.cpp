#include <leastwise/tolerance.hpp>

#include <string>
#include <string_view>
#include <utility>

#include "base/codes.hpp"
#include "base/text/dates.hpp"
#include "base/text/wording.hpp"
#include "scenario/builder.hpp"

namespace leastwise {
namespace {

constexpr Range bag_range{0, 10000, true, "kg", Measure::mass, "lb"};
constexpr Range bag_price_range{0, largest_number, false, "per bag"};
constexpr Range markup_range{0, 1000, false, "percent of the cost"};
constexpr Range step_range{0, 10, true, "percent"};

}  // namespace

void ScenarioBuilder::check_margins(const QuoteTerms& terms) {
  const std::string path = "quote.margin_percent";
  if (terms.margin_percent && !(*terms.margin_percent >= 0 && *terms.margin_percent < 100))
    diagnostics_.error(codes::out_of_range, path,
                       "a margin is a share of the price and must lie from 0 to below 100 percent, "
                       "found " +
                           number_text(*terms.margin_percent) +
                           "; what comes on top of the cost, in percent of the cost, is "
                           "markup_percent");
  if (terms.markup_percent)
    checks_.number("quote.markup_percent", "the markup", *terms.markup_percent, markup_range);
  if (terms.margin_per_t)
    checks_.number("quote.margin_per_t", "the margin", *terms.margin_per_t, charge_range);
  const char* first = nullptr;
  const std::pair<const char*, bool> stated[] = {
      {"margin_percent", terms.margin_percent.has_value()},
      {"markup_percent", terms.markup_percent.has_value()},
      {"margin_per_t", terms.margin_per_t.has_value()}};
  for (const auto& [name, given] : stated) {
    if (!given) continue;
    if (first != nullptr)
      diagnostics_.error(codes::margin_twice, below("quote", name),
                         "a quote must state its margin once, found " + std::string(first) +
                             " and " + name + "; keep one");
    first = name;
  }
}

void ScenarioBuilder::check_quote_dates(const QuoteTerms& terms) {
  const auto day = [&](const char* key, const std::string& text) {
    auto found = text.empty() ? std::nullopt : day_of(text);
    if (!text.empty() && !found)
      diagnostics_.error(
          codes::bad_date, below("quote", key),
          std::string(key) + " must be a day such as 2026-03-31, found " + in_quotes(text));
    return found;
  };
  const auto from = day("date", terms.date);
  const auto until = day("valid_until", terms.valid_until);
  if (from && until && *until < *from)
    diagnostics_.error(codes::bad_date, "quote.valid_until",
                       "a quote must be valid on its own day, found valid_until " +
                           terms.valid_until + " before date " + terms.date);
}

void ScenarioBuilder::check_quote() {
  if (draft_.quote) {
    const QuoteTerms& terms = *draft_.quote;
    checks_.text("quote.number", "the number of a quote", terms.number);
    checks_.text("quote.customer", "the customer of a quote", terms.customer);
    check_quote_dates(terms);
    check_margins(terms);
    if (terms.overhead_per_t)
      checks_.number("quote.overhead_per_t", "the overhead", *terms.overhead_per_t, charge_range);
    if (terms.outbound_freight_per_t)
      checks_.number("quote.outbound_freight_per_t", "the freight to the customer",
                     *terms.outbound_freight_per_t, charge_range);
    if (terms.bags) {
      checks_.number("quote.bags.kg", "the content of a bag", terms.bags->kg, bag_range);
      checks_.number("quote.bags.price_each", "the price of a bag", terms.bags->price_each,
                     bag_price_range);
    }
  }
  check_declaration();
}

void ScenarioBuilder::check_declaration() {
  if (!draft_.declare) return;
  const DeclarationTerms& terms = *draft_.declare;
  if (!terms.rules.empty() && !label_tolerance(terms.rules))
    diagnostics_.error(codes::bad_choice, "declare.rules",
                       "rules must be aafco or eu-2019-1009, found " + in_quotes(terms.rules));
  if (!terms.stated_as.empty() && terms.stated_as != "oxide" && terms.stated_as != "element")
    diagnostics_.error(codes::bad_choice, "declare.stated_as",
                       "stated_as must be oxide or element, found " + in_quotes(terms.stated_as));
  if (terms.step_percent)
    checks_.number("declare.step_percent", "the step of declared contents", *terms.step_percent,
                   step_range);
}

}  // namespace leastwise
