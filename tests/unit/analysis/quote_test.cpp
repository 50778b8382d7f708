#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>
#include <leastwise/quote.hpp>
#include <leastwise/render.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "unit/solve/scenarios.hpp"

using namespace leastwise;
using namespace leastwise::testing;
using doctest::Approx;

namespace {

Quote quoted(const ScenarioDraft& draft) {
  const Scenario scenario(draft);
  const Formulation answer = formulate(scenario);
  REQUIRE(answer.blend());
  return quote_of(scenario, *answer.blend());
}

const QuoteLine* quote_line(const Quote& quote, QuoteLineKind kind) {
  const auto found = std::ranges::find(quote.lines, kind, &QuoteLine::kind);
  return found == quote.lines.end() ? nullptr : &*found;
}

/// 250 kg carrier at 400 + 20 freight and 750 kg filler at 50: 105.00 + 37.50; fee 12, overhead 6.
ScenarioDraft carrier_order() {
  ScenarioDraft draft = carrier_and_filler();
  draft.materials[0].freight_per_t = 20;
  draft.blending_fee_per_t = 12;
  draft.make_tonnes = 24;
  draft.quote = QuoteTerms{};
  draft.quote->overhead_per_t = 6;
  return draft;
}

}  // namespace

TEST_SUITE("quote") {
  TEST_CASE("a margin in percent is a share of the price, and freight to the customer bears none") {
    ScenarioDraft draft = carrier_order();
    draft.quote->margin_percent = 10;
    draft.quote->outbound_freight_per_t = 15;
    const Quote quote = quoted(draft);
    CHECK(quote.per_t.materials == Approx(142.50));
    CHECK(quote.per_t.cost == Approx(160.50));
    CHECK(quote.per_t.at_plant == Approx(178.33));  // 160.50 / 0.9 = 178.333
    CHECK(quote.per_t.delivered == Approx(193.33));
    REQUIRE(quote_line(quote, QuoteLineKind::margin));
    CHECK(quote_line(quote, QuoteLineKind::margin)->amount_per_t == Approx(17.83));
    const QuoteLine& carrier = quote.lines[1];
    CHECK(carrier.name == "carrier");
    CHECK(*carrier.price_per_t == 400);
    CHECK(*carrier.freight_per_t == 20);
    CHECK(*carrier.delivered_per_t == 420);
    CHECK(carrier.amount_per_t == Approx(105));
  }

  TEST_CASE("a markup is a share of the cost, and a margin per tonne is added as it stands") {
    ScenarioDraft draft = carrier_order();
    draft.quote->markup_percent = 10;
    CHECK(quoted(draft).per_t.at_plant == Approx(176.55));
    draft.quote->markup_percent.reset();
    draft.quote->margin_per_t = 9.5;
    CHECK(quoted(draft).per_t.at_plant == Approx(170.00));
  }

  TEST_CASE("the order costs the price of a tonne times its tonnes, to the cent") {
    ScenarioDraft draft = carrier_order();
    draft.quote->margin_percent = 10;
    draft.make_tonnes = 23.7;
    const Quote quote = quoted(draft);
    REQUIRE(quote.order);
    CHECK(quote.order->at_plant == Approx(4226.42));  // 178.33 x 23.7 = 4226.421
    CHECK(quote.order->cost == Approx(3803.85));      // 160.50 x 23.7
    CHECK(*quote_line(quote, QuoteLineKind::margin)->amount == Approx(422.57));
  }

  TEST_CASE("without a margin the order's rounding has a line of its own, or there is none") {
    ScenarioDraft draft = carrier_order();
    CHECK(quote_line(quoted(draft), QuoteLineKind::margin) == nullptr);
    CHECK(quote_line(quoted(draft), QuoteLineKind::rounding) == nullptr);
    draft.materials[1].price_per_t = 50.005;  // 750 kg: 37.50375, so a tonne costs 160.50375
    const Quote quote = quoted(draft);
    CHECK(quote.order->cost == Approx(3852.09));      // 160.50375 x 24
    CHECK(quote.order->at_plant == Approx(3852.00));  // 160.50 x 24
    REQUIRE(quote_line(quote, QuoteLineKind::rounding));
    CHECK(*quote_line(quote, QuoteLineKind::rounding)->amount == Approx(-0.09));
  }

  TEST_CASE("bags come whole: the last one is paid for though it is not full") {
    ScenarioDraft draft = carrier_order();
    draft.quote->bags = BagTerms{25, 0.5};
    CHECK(quoted(draft).bags == 960);
    CHECK(quote_line(quoted(draft), QuoteLineKind::bags)->amount_per_t == Approx(20));
    draft.make_tonnes = 0.08;  // 3.2 bags
    const Quote quote = quoted(draft);
    CHECK(quote.bags == 4);
    CHECK(*quote_line(quote, QuoteLineKind::bags)->amount == Approx(2));
    draft.make_tonnes.reset();
    CHECK_FALSE(quoted(draft).bags);
    CHECK(quote_line(quoted(draft), QuoteLineKind::bags)->amount_per_t == Approx(20));
  }

  TEST_CASE("a scenario without terms is quoted at its cost, per tonne") {
    const Quote quote = quoted(carrier_and_filler());
    CHECK(quote.per_t.delivered == Approx(137.50));
    CHECK_FALSE(quote.order);
    CHECK(quote.lines.size() == 2);
  }

  TEST_CASE("an order by the hectare makes the tonnes that its hectares take") {
    ScenarioDraft draft;
    draft.materials = {stated("carrier", 400, {{"N", 40}})};
    draft.rates_kg_per_ha = {{"N", at_least(80)}};
    draft.make_hectares = 30;
    const Quote quote = quoted(draft);
    CHECK(*quote.tonnes == Approx(6));
    CHECK(*quote.delivered_per_ha == Approx(80));
    CHECK(quote.order->delivered == Approx(2400));
  }

  TEST_CASE("a quote for a powder whose binder has no price is refused") {
    ScenarioDraft draft = carrier_and_filler();
    draft.materials.push_back(stated("zinc", 3000, {{"Zn", 80}}, Form::powder));
    draft.grade_percent.push_back({"Zn", at_least(0.4)});
    draft.binder = BinderDraft{"water-glass", 40.0, {}, false};
    const Scenario scenario(draft);
    const Formulation answer = formulate(scenario);
    REQUIRE(answer.blend());
    CHECK_THROWS_WITH_AS(static_cast<void>(quote_of(scenario, *answer.blend())),
                         doctest::Contains("'water-glass' has none"), InputError);
    draft.binder->price_per_t = 0;
    CHECK(quoted(draft).per_t.delivered > 0);
  }

  TEST_CASE("the limits of the scenario are echoed") {
    const Quote quote = quoted(carrier_order());
    REQUIRE(quote.asked.size() == 1);
    CHECK(to_string(quote.asked[0].id) == "grade N min");
    CHECK(quote.asked[0].limit == 10);
    CHECK(to_text(quote, {.source = "order.yaml"})
              .find("at least 10 % N in the product. Scenario:") != std::string::npos);
  }

  TEST_CASE("the lines of the CSV add up to its sums") {
    ScenarioDraft draft = carrier_order();
    draft.quote->margin_percent = 7.3;
    draft.quote->outbound_freight_per_t = 13.37;
    draft.make_tonnes = 7.77;
    std::istringstream csv(to_csv(quoted(draft), {.source = "order.yaml"}));
    std::string line;
    std::getline(csv, line);
    double sum = 0;
    double delivered = 0;
    while (std::getline(csv, line)) {
      if (line.starts_with("about")) continue;
      const double amount = std::stod(line.substr(line.rfind(',') + 1));
      if (line.starts_with("sum,delivered"))
        delivered = amount;
      else if (!line.starts_with("sum"))
        sum += amount;
    }
    CHECK(delivered > 0);
    CHECK(std::llround(sum * 100) == std::llround(delivered * 100));
  }
}
